using System.ComponentModel.DataAnnotations;

namespace StationFleet.Web.Grants;

/// <summary>How money is written.</summary>
public sealed class GrantOptions
{
    public const string Section = "Grants";

    /// <summary>The currency's sign, before each amount.</summary>
    [Required]
    public string CurrencySign { get; set; } = "$";

    /// <summary>The currency's code, in the heads of exported columns.</summary>
    [Required]
    public string Currency { get; set; } = "USD";
}
