namespace StationFleet.Web.Boaters;

/// <summary>Marks a page for people without an account: its document carries its own small style and nothing else.</summary>
[AttributeUsage(AttributeTargets.Class)]
internal sealed class PublicDocumentAttribute : Attribute;
