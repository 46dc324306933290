using System.Net.Mail;
using Microsoft.AspNetCore.Identity;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Accounts;

/// <summary>What an account needs, in sentences that stand beside the field.</summary>
internal static class AccountRules
{
    public const int ShortestPassword = 12;
    private const int LongestPassword = 200;

    /// <summary>Fewer different characters than this are a pattern, not a password.</summary>
    public const int UniqueCharacters = 5;

    public static string PasswordHint { get; } = $"At least {ShortestPassword} characters. Several words are easy to remember and hard to guess.";

    public static string Email(this Typed typed, string field, string? value)
    {
        string email = typed.Text(field, value, 200, "Write an e-mail address.");
        if (email.Length > 0 && !(MailAddress.TryCreate(email, out MailAddress? address) && address.Address == email))
        {
            typed.Wrong.Note(field, "This is not an e-mail address.");
        }

        return email;
    }

    public static void NewPassword(this Typed typed, string field, string? password, string againField, string? again)
    {
        string chosen = password ?? "";
        if (chosen.Length < ShortestPassword)
        {
            typed.Wrong.Note(field, $"Choose at least {ShortestPassword} characters.");
        }
        else if (chosen.Length > LongestPassword)
        {
            typed.Wrong.Note(field, $"Choose at most {LongestPassword} characters.");
        }
        else if (chosen.Distinct().Count() < UniqueCharacters)
        {
            typed.Wrong.Note(field, "Choose something less repetitive.");
        }
        else if (!string.Equals(chosen, again, StringComparison.Ordinal))
        {
            typed.Wrong.Note(againField, "The two passwords differ. Type both again.");
        }
    }

    /// <summary>What the account store refuses although our own rules took it, beside the field that it is about.</summary>
    public static void NoteRefusals(this WrongFields wrong, IdentityResult result, string emailField, string passwordField)
    {
        foreach (IdentityError error in result.Errors)
        {
            if (error.Code.StartsWith("Password", StringComparison.Ordinal))
            {
                wrong.Note(passwordField, error.Description);
            }
            else if (error.Code.StartsWith("Duplicate", StringComparison.Ordinal))
            {
                wrong.Note(emailField, "Somebody already has an account with this e-mail address.");
            }
            else
            {
                wrong.Note(emailField, error.Description);
            }
        }
    }
}
