using Xunit.Abstractions;
using Xunit.Sdk;

namespace StationFleet.Testing;

/// <summary>Names the publication from which a test's expected values are read; <c>--filter "Source~NIST"</c> lists them.</summary>
[TraitDiscoverer("StationFleet.Testing.SourceDiscoverer", "StationFleet.Testing")]
[AttributeUsage(AttributeTargets.Class | AttributeTargets.Method, AllowMultiple = true)]
public sealed class SourceAttribute(string publication) : Attribute, ITraitAttribute
{
    public string Publication { get; } = publication;
}

/// <summary>Makes a trait of each <see cref="SourceAttribute"/>.</summary>
public sealed class SourceDiscoverer : ITraitDiscoverer
{
    public IEnumerable<KeyValuePair<string, string>> GetTraits(IAttributeInfo traitAttribute)
    {
        ArgumentNullException.ThrowIfNull(traitAttribute);
        yield return new KeyValuePair<string, string>("Source", (string)traitAttribute.GetConstructorArguments().First());
    }
}
