namespace StationFleet.Reports.Tables;

/// <summary>How a number reads.</summary>
public enum NumberFormat
{
    /// <summary>A number of things, without decimals.</summary>
    Count,

    /// <summary>One decimal.</summary>
    OneDecimal,

    /// <summary>Two decimals, as money has.</summary>
    TwoDecimals,

    /// <summary>Three decimals, as small concentrations have.</summary>
    ThreeDecimals,

    /// <summary>A share of a whole, 0 to 1, shown as a percentage with one decimal.</summary>
    Share,
}

/// <summary>What stands in one cell of a table, with its type.</summary>
public abstract record Cell
{
    private Cell()
    {
    }

    /// <summary>Nothing is known, or nothing applies.</summary>
    public static Cell None { get; } = new Empty();

    public sealed record Empty : Cell;

    public sealed record Text(string Value) : Cell;

    public sealed record Number(double Value, NumberFormat Format) : Cell;

    public sealed record Day(DateOnly Value) : Cell;

    /// <summary>An instant: people read it by the clock of its zone, machines in UTC.</summary>
    public sealed record Instant(DateTimeOffset Value, TimeZoneInfo Zone) : Cell
    {
        public DateTime Local => TimeZoneInfo.ConvertTime(Value, Zone).DateTime;
    }

    public static Cell Of(string? text) => string.IsNullOrEmpty(text) ? None : new Text(text);

    public static Cell Count(double? value) => value is { } number && double.IsFinite(number) ? new Number(number, NumberFormat.Count) : None;

    public static Cell OneDecimal(double? value) => value is { } number ? new Number(number, NumberFormat.OneDecimal) : None;

    public static Cell Share(double? value) => value is { } number ? new Number(number, NumberFormat.Share) : None;

    public static Cell TwoDecimals(double? value) => value is { } number ? new Number(number, NumberFormat.TwoDecimals) : None;

    public static Cell ThreeDecimals(double? value) => value is { } number && double.IsFinite(number) ? new Number(number, NumberFormat.ThreeDecimals) : None;

    public static Cell Money(Domain.Quantities.Money? value) => TwoDecimals((double?)value?.Amount);

    public static Cell On(DateOnly? value) => value is { } day ? new Day(day) : None;

    public static Cell At(DateTimeOffset? value, TimeZoneInfo zone) => value is { } instant ? new Instant(instant, zone) : None;
}
