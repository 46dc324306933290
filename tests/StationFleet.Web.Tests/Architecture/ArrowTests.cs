using System.Reflection;
using System.Runtime.CompilerServices;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using NetArchTest.Rules;
using StationFleet.Domain.Watch;
using StationFleet.Reports.Tables;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Tests.Architecture;

/// <summary>The arrows between the projects point down only, and a few habits that a machine can hold.</summary>
public sealed class ArrowTests
{
    private static readonly Assembly Domain = typeof(Problem).Assembly;
    private static readonly Assembly Storage = typeof(FleetDbContext).Assembly;
    private static readonly Assembly Reports = typeof(TableWorkbook).Assembly;
    private static readonly Assembly Web = typeof(Program).Assembly;

    [Fact]
    public void Domain_needs_nothing_but_the_runtime_and_a_numerical_library() =>
        References(Domain).Where(name => !name.StartsWith("System.", StringComparison.Ordinal) && name != "MathNet.Numerics")
            .Should().BeEmpty("the domain must be testable without a web server or a database");

    [Fact]
    public void Domain_touches_no_files_no_network_and_no_threads() =>
        Types.InAssembly(Domain).ShouldNot()
            .HaveDependencyOnAny("System.IO.File", "System.IO.Directory", "System.Net.Http", "System.Threading.Thread")
            .GetResult().FailingTypeNames.Should().BeNullOrEmpty();

    [Fact]
    public void Storage_and_Reports_know_the_domain_only()
    {
        Ours(Storage).Should().BeEquivalentTo("StationFleet.Domain");
        Ours(Reports).Should().BeEquivalentTo("StationFleet.Domain");
    }

    [Fact]
    public void The_command_line_does_not_know_the_web_server() =>
        Ours(Assembly.Load("stationfleet")).Should().NotContain("StationFleet.Web");

    [Fact]
    public void No_page_holds_a_database()
    {
        IEnumerable<string> holders = Web.GetTypes()
            .Where(type => type.IsSubclassOf(typeof(ComponentBase)))
            .SelectMany(type => type.GetProperties(BindingFlags.Instance | BindingFlags.NonPublic | BindingFlags.Public))
            .Where(property => property.IsDefined(typeof(InjectAttribute)) && IsDatabase(property.PropertyType))
            .Select(property => $"{property.DeclaringType}.{property.Name}");

        holders.Should().BeEmpty("a page asks a handler");
    }

    [Fact]
    public void Nothing_is_async_void()
    {
        IEnumerable<string> found = new[] { Domain, Storage, Reports, Web }.SelectMany(assembly => assembly.GetTypes())
            .SelectMany(type => type.GetMethods(BindingFlags.Instance | BindingFlags.Static | BindingFlags.NonPublic | BindingFlags.Public | BindingFlags.DeclaredOnly))
            .Where(method => method.ReturnType == typeof(void) && method.IsDefined(typeof(AsyncStateMachineAttribute)))
            .Select(method => $"{method.DeclaringType}.{method.Name}");

        found.Should().BeEmpty("nobody sees what an async void throws");
    }

    private static bool IsDatabase(Type type) =>
        type == typeof(FleetDbContext) || type == typeof(IDbContextFactory<FleetDbContext>) || type == typeof(FleetDatabase);

    private static IEnumerable<string> References(Assembly assembly) => assembly.GetReferencedAssemblies().Select(reference => reference.Name!);

    private static IEnumerable<string> Ours(Assembly assembly) =>
        References(assembly).Where(name => name.StartsWith("StationFleet.", StringComparison.Ordinal));
}
