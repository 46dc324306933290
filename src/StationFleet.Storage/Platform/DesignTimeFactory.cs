using System.Diagnostics.CodeAnalysis;
using Microsoft.EntityFrameworkCore.Design;

namespace StationFleet.Storage.Platform;

/// <summary>What <c>dotnet ef</c> makes the model with; it opens no database.</summary>
[SuppressMessage("Performance", "CA1812", Justification = "dotnet-ef makes it.")]
internal sealed class DesignTimeFactory : IDesignTimeDbContextFactory<FleetDbContext>
{
    public FleetDbContext CreateDbContext(string[] args) => new FleetDatabase("design-time.db").CreateDbContext();
}
