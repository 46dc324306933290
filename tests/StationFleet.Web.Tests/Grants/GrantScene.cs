using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Grants;
using StationFleet.Web.Accounts;
using StationFleet.Web.Grants;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Grants;

/// <summary>Awards and items for tests.</summary>
internal static class GrantScene
{
    /// <summary>The set of rules since October 2024, as every database begins with.</summary>
    public const int Since2024 = 1;

    /// <summary>The older set.</summary>
    public const int Before2024 = 2;

    public static Task<Award> AddAwardAsync(this FleetApp app, string number, int terms = Since2024, bool isFederal = true) =>
        app.Databases.AddAsync(new Award
        {
            Number = number,
            Title = "Clean boats of the Juniper Basin",
            Funder = "State conservation fund",
            Starts = new DateOnly(2026, 1, 1),
            Ends = new DateOnly(2027, 6, 30),
            IsFederal = isFederal,
            Rhythm = ReportRhythm.Quarterly,
            TermsId = terms,
            MatchRequired = Money.Of(5_000),
        });

    /// <summary>The form of a unit that one agency owns and two sources paid.</summary>
    public static SaveItem.Command Unit(string tag, Agency owner, Award award, string station = "", string cost = "18,400") => new()
    {
        Tag = tag,
        Description = "Cleaning station",
        Model = "Invented Works WS-4",
        Serial = $"V-{tag}",
        Acquired = "2024-11-05",
        Cost = cost,
        Station = station,
        Owners = { [owner.Id.Value] = "100" },
        Funding = { [award.Id.Value] = "60", [0] = "40" },
    };

    public static async Task<EquipmentId> AddItemAsync(this FleetApp app, SaveItem.Command item, Viewer? viewer = null) =>
        ((SaveItem.Outcome.Saved)await app.Get<SaveItem>().HandleAsync(viewer ?? Viewers.Supervisor, item, CancellationToken.None)).Id;
}
