using System.CommandLine.Parsing;
using System.Globalization;

namespace StationFleet.Cli;

/// <summary>How arguments are read.</summary>
internal static class Arguments
{
    public static DateOnly Day(ArgumentResult argument)
    {
        string text = argument.Tokens[0].Value;
        if (!DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
        {
            argument.AddError($"'{text}' is no day such as 2026-05-01.");
        }

        return day;
    }

    public static Uri? WebAddress(ArgumentResult argument)
    {
        string text = argument.Tokens[0].Value;
        if (Uri.TryCreate(text, UriKind.Absolute, out Uri? address) && (address.Scheme == Uri.UriSchemeHttp || address.Scheme == Uri.UriSchemeHttps))
        {
            return address;
        }

        argument.AddError($"'{text}' is no address such as http://localhost:5080.");
        return null;
    }
}
