using System.Text.Json.Serialization;

namespace StationFleet.Domain.Tanks;

/// <summary>What makes litres of a liquid's height in a tank, and the other way round; inner dimensions.</summary>
/// <remarks>Kept as JSON in the database and in fleet files, so the property names are a format.</remarks>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind", UnknownDerivedTypeHandling = JsonUnknownDerivedTypeHandling.FailSerialization)]
[JsonDerivedType(typeof(EvenTank), "even")]
[JsonDerivedType(typeof(VerticalCylinder), "verticalCylinder")]
[JsonDerivedType(typeof(HorizontalCylinder), "horizontalCylinder")]
[JsonDerivedType(typeof(BoxTank), "box")]
[JsonDerivedType(typeof(StrappingTable), "strapping")]
public abstract record TankShape
{
    /// <summary>Litres in a cubic metre.</summary>
    protected const double LitresPerCubicMetre = 1000;

    // Halvings that leave less than a nanometre of any tank.
    private const int Halvings = 60;

    /// <summary>The greatest height that the shape knows [m]: the brim, or the last row of a table.</summary>
    [JsonIgnore]
    public abstract double HeightM { get; }

    /// <summary>The volume at that height [L].</summary>
    [JsonIgnore]
    public double BrimLitres => LitresWithin(HeightM);

    /// <summary>The volume under a height [L].</summary>
    /// <param name="levelM">Liquid height above the bottom [m]; what lies outside the tank counts as its bottom or its brim.</param>
    public virtual double LitresAt(double levelM) => LitresWithin(Math.Clamp(levelM, 0, HeightM));

    /// <summary>The height of a volume [m]; the lowest one where the shape holds it at several.</summary>
    /// <param name="litres">Volume [L]; what does not fit counts as empty or full to the brim.</param>
    public virtual double LevelAt(double litres)
    {
        if (litres >= BrimLitres)
        {
            return HeightM;
        }

        (double low, double high) = (0, HeightM);
        for (int i = 0; i < Halvings; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = LitresWithin(middle) < litres ? (middle, high) : (low, middle);
        }

        return litres <= LitresWithin(0) ? 0 : high;
    }

    /// <summary>What cannot be about the dimensions, in a sentence without names of places; null when they are sound.</summary>
    public abstract string? Fault();

    /// <summary>The volume under a height that lies in the tank [L]; never falls as the height rises.</summary>
    /// <param name="levelM">Liquid height above the bottom [m], 0 to <see cref="HeightM"/>.</param>
    protected abstract double LitresWithin(double levelM);

    /// <summary>Whether a dimension is a length.</summary>
    /// <param name="metres">The dimension [m].</param>
    protected static bool IsLength(double metres) => double.IsFinite(metres) && metres > 0;
}
