using Xunit.Abstractions;
using Xunit.Sdk;

namespace StationFleet.Testing;

/// <summary>Names the publication that a test's expected values come from; <c>--filter "Source~NIST"</c> lists them.</summary>
/// <param name="source">Author, title, section, address or DOI.</param>
[TraitDiscoverer("StationFleet.Testing.SourceDiscoverer", "StationFleet.Testing")]
[AttributeUsage(AttributeTargets.Method | AttributeTargets.Class, AllowMultiple = true)]
public sealed class SourceAttribute(string source) : Attribute, ITraitAttribute
{
    public string Source { get; } = source;
}

/// <summary>Tells xunit what a <see cref="SourceAttribute"/> says.</summary>
public sealed class SourceDiscoverer : ITraitDiscoverer
{
    public IEnumerable<KeyValuePair<string, string>> GetTraits(IAttributeInfo traitAttribute)
    {
        ArgumentNullException.ThrowIfNull(traitAttribute);
        yield return new KeyValuePair<string, string>("Source", (string)traitAttribute.GetConstructorArguments().First());
    }
}
