using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Boaters;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;
using StationFleet.Storage.Service.Routes;
using StationFleet.Storage.Service.Visits;
using StationFleet.Storage.Telemetry.LoggerFiles;
using StationFleet.Storage.Watch;

namespace StationFleet.Storage.Platform;

/// <summary>
/// The fleet's database, but for the measurement tables: those are made by migration SQL and belong to
/// <see cref="Telemetry.MeasurementWriter"/> and <see cref="Telemetry.MeasurementReader"/>.
/// </summary>
public sealed class FleetDbContext(DbContextOptions<FleetDbContext> options) : IdentityDbContext<FleetUser>(options)
{
    public DbSet<Agency> Agencies => Set<Agency>();

    public DbSet<Access> Accesses => Set<Access>();

    public DbSet<AccessClosure> AccessClosures => Set<AccessClosure>();

    public DbSet<Station> Stations => Set<Station>();

    public DbSet<WinterStorage> WinterStorages => Set<WinterStorage>();

    public DbSet<Placement> Placements => Set<Placement>();

    public DbSet<Tool> Tools => Set<Tool>();

    public DbSet<StationTank> StationTanks => Set<StationTank>();

    public DbSet<StationCalibration> StationCalibrations => Set<StationCalibration>();

    public DbSet<StationPower> StationPowers => Set<StationPower>();

    public DbSet<StationKey> StationKeys => Set<StationKey>();

    public DbSet<KnownDays> KnownDays => Set<KnownDays>();

    public DbSet<ServerDowntime> ServerDowntimes => Set<ServerDowntime>();

    public DbSet<StationRules> StationRules => Set<StationRules>();

    public DbSet<RuleChange> RuleChanges => Set<RuleChange>();

    public DbSet<WatchPosition> WatchPositions => Set<WatchPosition>();

    public DbSet<WatchCheckpoint> WatchCheckpoints => Set<WatchCheckpoint>();

    public DbSet<ProblemRow> Problems => Set<ProblemRow>();

    public DbSet<Ticket> Tickets => Set<Ticket>();

    public DbSet<TicketEvent> TicketEvents => Set<TicketEvent>();

    public DbSet<ServiceVisit> ServiceVisits => Set<ServiceVisit>();

    public DbSet<Photograph> Photographs => Set<Photograph>();

    public DbSet<PumpOut> PumpOuts => Set<PumpOut>();

    public DbSet<DutyEntry> DutyHours => Set<DutyEntry>();

    public DbSet<AbsenceEntry> Absences => Set<AbsenceEntry>();

    public DbSet<TicketCall> TicketCalls => Set<TicketCall>();

    public DbSet<SignedChecklist> SignedChecklists => Set<SignedChecklist>();

    public DbSet<GuidanceChange> GuidanceChanges => Set<GuidanceChange>();

    public DbSet<Outing> Outings => Set<Outing>();

    public DbSet<VisitTicket> VisitTickets => Set<VisitTicket>();

    public DbSet<DisposalSite> DisposalSites => Set<DisposalSite>();

    public DbSet<Part> Parts => Set<Part>();

    public DbSet<PartMove> PartMoves => Set<PartMove>();

    public DbSet<PumpOutAnswer> PumpOutAnswers => Set<PumpOutAnswer>();

    public DbSet<Yard> Yards => Set<Yard>();

    public DbSet<KnownDrive> KnownDrives => Set<KnownDrive>();

    public DbSet<SetRoute> SetRoutes => Set<SetRoute>();

    public DbSet<Sample> Samples => Set<Sample>();

    public DbSet<SampleAliquot> SampleAliquots => Set<SampleAliquot>();

    public DbSet<AliquotCount> AliquotCounts => Set<AliquotCount>();

    public DbSet<PieceFind> PieceFinds => Set<PieceFind>();

    public DbSet<CustodyStep> CustodySteps => Set<CustodyStep>();

    public DbSet<SampleEvent> SampleEvents => Set<SampleEvent>();

    public DbSet<CountShiftRow> CountShifts => Set<CountShiftRow>();

    public DbSet<CountedToolUses> CountedToolUses => Set<CountedToolUses>();

    public DbSet<CountShiftEvent> CountShiftEvents => Set<CountShiftEvent>();

    public DbSet<SamplePlan> SamplePlans => Set<SamplePlan>();

    public DbSet<Taxon> Taxa => Set<Taxon>();

    public DbSet<KnownTaxon> KnownTaxa => Set<KnownTaxon>();

    public DbSet<NewFind> NewFinds => Set<NewFind>();

    public DbSet<FindEvent> FindEvents => Set<FindEvent>();

    public DbSet<PublicReport> PublicReports => Set<PublicReport>();

    public DbSet<OutgoingMail> OutgoingMails => Set<OutgoingMail>();

    public DbSet<ReceivedMail> ReceivedMails => Set<ReceivedMail>();

    public DbSet<MailChoices> MailChoices => Set<MailChoices>();

    public DbSet<LoggerFileImport> LoggerFileImports => Set<LoggerFileImport>();

    public DbSet<AwardTermsSet> AwardTerms => Set<AwardTermsSet>();

    public DbSet<Award> Awards => Set<Award>();

    public DbSet<AwardStation> AwardStations => Set<AwardStation>();

    public DbSet<AwardReport> AwardReports => Set<AwardReport>();

    public DbSet<AwardIndicator> AwardIndicators => Set<AwardIndicator>();

    public DbSet<EquipmentItem> Equipment => Set<EquipmentItem>();

    public DbSet<EquipmentShare> EquipmentShares => Set<EquipmentShare>();

    public DbSet<EquipmentInventory> EquipmentInventories => Set<EquipmentInventory>();

    public DbSet<EquipmentSighting> EquipmentSightings => Set<EquipmentSighting>();

    public DbSet<TimeEntry> TimeEntries => Set<TimeEntry>();

    public DbSet<CostEntry> CostEntries => Set<CostEntry>();

    public DbSet<SubmittedSummary> SubmittedSummaries => Set<SubmittedSummary>();

    public DbSet<Setting> Settings => Set<Setting>();

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.ApplyConfigurationsFromAssembly(typeof(FleetDbContext).Assembly);
        builder.Entity<FleetUser>().ToTable("users");
        builder.Entity<IdentityRole>().ToTable("roles");
        builder.Entity<IdentityUserRole<string>>().ToTable("user_roles");
        builder.Entity<IdentityUserClaim<string>>().ToTable("user_claims");
        builder.Entity<IdentityUserLogin<string>>().ToTable("user_logins");
        builder.Entity<IdentityRoleClaim<string>>().ToTable("role_claims");
        builder.Entity<IdentityUserToken<string>>().ToTable("user_tokens");
        builder.UseSnakeCaseColumns();
        builder.UseAutoincrementForOwnIds();
    }

    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        // Unix milliseconds: sorts, compares, and is the same wherever the server stands.
        configurationBuilder.Properties<DateTimeOffset>().HaveConversion<UtcInstantConverter>();
        configurationBuilder.Properties<TimeSpan>().HaveConversion<SecondsConverter>();
        configurationBuilder.Properties<AgencyId>().HaveConversion<AgencyIdConverter>();
        configurationBuilder.Properties<AccessId>().HaveConversion<AccessIdConverter>();
        configurationBuilder.Properties<StationId>().HaveConversion<StationIdConverter>();
        configurationBuilder.Properties<PlacementId>().HaveConversion<PlacementIdConverter>();
        configurationBuilder.Properties<TicketId>().HaveConversion<TicketIdConverter>();
        configurationBuilder.Properties<AwardId>().HaveConversion<AwardIdConverter>();
        configurationBuilder.Properties<EquipmentId>().HaveConversion<EquipmentIdConverter>();
        configurationBuilder.Properties<Money>().HaveConversion<MoneyConverter>();
        configurationBuilder.Properties<Percentage>().HaveConversion<PercentageConverter>();
        configurationBuilder.Properties<SampleId>().HaveConversion<SampleIdConverter>();
        configurationBuilder.Properties<CountShiftId>().HaveConversion<CountShiftIdConverter>();
        configurationBuilder.Properties<TaxonId>().HaveConversion<TaxonIdConverter>();
        configurationBuilder.Properties<SamplePlanId>().HaveConversion<SamplePlanIdConverter>();
        configurationBuilder.Properties<FindId>().HaveConversion<FindIdConverter>();
        configurationBuilder.Properties<Enum>().HaveConversion<string>();
    }
}
