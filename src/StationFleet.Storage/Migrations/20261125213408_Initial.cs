using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

#pragma warning disable CA1814 // Prefer jagged arrays over multidimensional

namespace StationFleet.Storage.Migrations
{
    /// <inheritdoc />
    public partial class Initial : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "agencies",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    name = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    find_contact = table.Column<string>(type: "TEXT", maxLength: 200, nullable: true),
                    find_hours = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_agencies", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "award_terms",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    terms = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_award_terms", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "disposal_sites",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    name = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    permission = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    last_day = table.Column<DateOnly>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_disposal_sites", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "equipment_inventories",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    begun = table.Column<long>(type: "INTEGER", nullable: false),
                    begun_by = table.Column<string>(type: "TEXT", nullable: false),
                    finished = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_equipment_inventories", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "guidance_changes",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    rule = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    reason = table.Column<string>(type: "TEXT", maxLength: 500, nullable: false),
                    steps = table.Column<string>(type: "TEXT", nullable: true),
                    added_cautions = table.Column<string>(type: "TEXT", nullable: false),
                    removed_cautions = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_guidance_changes", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "known_drives",
                columns: table => new
                {
                    from_key = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    to_key = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    minutes = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_known_drives", x => new { x.from_key, x.to_key });
                });

            migrationBuilder.CreateTable(
                name: "parts",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    name = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    reorder_at = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_parts", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "roles",
                columns: table => new
                {
                    id = table.Column<string>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    normalized_name = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    concurrency_stamp = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_roles", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "server_downtimes",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    to = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_server_downtimes", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "settings",
                columns: table => new
                {
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    value = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_settings", x => x.name);
                });

            migrationBuilder.CreateTable(
                name: "submitted_summaries",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    title = table.Column<string>(type: "TEXT", nullable: false),
                    query = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    by = table.Column<string>(type: "TEXT", nullable: false),
                    figures = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_submitted_summaries", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "users",
                columns: table => new
                {
                    id = table.Column<string>(type: "TEXT", nullable: false),
                    display_name = table.Column<string>(type: "TEXT", nullable: false),
                    agency_id = table.Column<int>(type: "INTEGER", nullable: true),
                    user_name = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    normalized_user_name = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    email = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    normalized_email = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    email_confirmed = table.Column<bool>(type: "INTEGER", nullable: false),
                    password_hash = table.Column<string>(type: "TEXT", nullable: true),
                    security_stamp = table.Column<string>(type: "TEXT", nullable: true),
                    concurrency_stamp = table.Column<string>(type: "TEXT", nullable: true),
                    phone_number = table.Column<string>(type: "TEXT", nullable: true),
                    phone_number_confirmed = table.Column<bool>(type: "INTEGER", nullable: false),
                    two_factor_enabled = table.Column<bool>(type: "INTEGER", nullable: false),
                    lockout_end = table.Column<long>(type: "INTEGER", nullable: true),
                    lockout_enabled = table.Column<bool>(type: "INTEGER", nullable: false),
                    access_failed_count = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_users", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "yards",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    name = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    latitude = table.Column<double>(type: "REAL", nullable: false),
                    longitude = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_yards", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "accesses",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    slug = table.Column<string>(type: "TEXT", maxLength: 60, nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    water = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    host_id = table.Column<int>(type: "INTEGER", nullable: false),
                    time_zone = table.Column<string>(type: "TEXT", maxLength: 60, nullable: false),
                    latitude = table.Column<double>(type: "REAL", nullable: false),
                    longitude = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_accesses", x => x.id);
                    table.ForeignKey(
                        name: "FK_accesses_agencies_host_id",
                        column: x => x.host_id,
                        principalTable: "agencies",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stations",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    code = table.Column<string>(type: "TEXT", maxLength: 30, nullable: false),
                    is_portable = table.Column<bool>(type: "INTEGER", nullable: false),
                    owner_id = table.Column<int>(type: "INTEGER", nullable: false),
                    operator_id = table.Column<int>(type: "INTEGER", nullable: false),
                    created = table.Column<long>(type: "INTEGER", nullable: false),
                    report_every = table.Column<long>(type: "INTEGER", nullable: false),
                    has_no_clock = table.Column<bool>(type: "INTEGER", nullable: false),
                    access_code = table.Column<string>(type: "TEXT", maxLength: 60, nullable: false),
                    key_holders = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_stations", x => x.id);
                    table.ForeignKey(
                        name: "FK_stations_agencies_operator_id",
                        column: x => x.operator_id,
                        principalTable: "agencies",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_stations_agencies_owner_id",
                        column: x => x.owner_id,
                        principalTable: "agencies",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "taxa",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    agency_id = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    scientific_name = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    rank = table.Column<string>(type: "TEXT", nullable: false),
                    kingdom = table.Column<string>(type: "TEXT", nullable: false),
                    counted_as = table.Column<string>(type: "TEXT", nullable: false),
                    stages = table.Column<string>(type: "TEXT", nullable: false),
                    key = table.Column<string>(type: "TEXT", maxLength: 1, nullable: false),
                    is_retired = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_taxa", x => x.id);
                    table.ForeignKey(
                        name: "FK_taxa_agencies_agency_id",
                        column: x => x.agency_id,
                        principalTable: "agencies",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "awards",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    number = table.Column<string>(type: "TEXT", maxLength: 60, nullable: false),
                    title = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    funder = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    starts = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    ends = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    is_federal = table.Column<bool>(type: "INTEGER", nullable: false),
                    is_subrecipient = table.Column<bool>(type: "INTEGER", nullable: false),
                    rhythm = table.Column<string>(type: "TEXT", nullable: false),
                    terms_id = table.Column<int>(type: "INTEGER", nullable: false),
                    match_required = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_awards", x => x.id);
                    table.ForeignKey(
                        name: "FK_awards_award_terms_terms_id",
                        column: x => x.terms_id,
                        principalTable: "award_terms",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "role_claims",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    role_id = table.Column<string>(type: "TEXT", nullable: false),
                    claim_type = table.Column<string>(type: "TEXT", nullable: true),
                    claim_value = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_role_claims", x => x.id);
                    table.ForeignKey(
                        name: "FK_role_claims_roles_role_id",
                        column: x => x.role_id,
                        principalTable: "roles",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "absences",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    person_id = table.Column<string>(type: "TEXT", nullable: false),
                    stand_in_id = table.Column<string>(type: "TEXT", nullable: true),
                    first_day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    last_day = table.Column<DateOnly>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_absences", x => x.id);
                    table.ForeignKey(
                        name: "FK_absences_users_person_id",
                        column: x => x.person_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_absences_users_stand_in_id",
                        column: x => x.stand_in_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.SetNull);
                });

            migrationBuilder.CreateTable(
                name: "mail_choices",
                columns: table => new
                {
                    person_id = table.Column<string>(type: "TEXT", nullable: false),
                    morning = table.Column<bool>(type: "INTEGER", nullable: true),
                    weekly = table.Column<bool>(type: "INTEGER", nullable: true),
                    quiet_from = table.Column<TimeOnly>(type: "TEXT", nullable: true),
                    quiet_to = table.Column<TimeOnly>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_mail_choices", x => x.person_id);
                    table.ForeignKey(
                        name: "FK_mail_choices_users_person_id",
                        column: x => x.person_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "outings",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    person_id = table.Column<string>(type: "TEXT", nullable: false),
                    who = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    where = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    since = table.Column<long>(type: "INTEGER", nullable: false),
                    expected_back = table.Column<long>(type: "INTEGER", nullable: false),
                    known = table.Column<long>(type: "INTEGER", nullable: false),
                    back = table.Column<long>(type: "INTEGER", nullable: true),
                    told = table.Column<long>(type: "INTEGER", nullable: true),
                    form_keys = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_outings", x => x.id);
                    table.ForeignKey(
                        name: "FK_outings_users_person_id",
                        column: x => x.person_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "set_routes",
                columns: table => new
                {
                    day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    person_id = table.Column<string>(type: "TEXT", nullable: false),
                    stops = table.Column<string>(type: "TEXT", nullable: false),
                    starts_at = table.Column<long>(type: "INTEGER", nullable: false),
                    back = table.Column<long>(type: "INTEGER", nullable: false),
                    set_by = table.Column<string>(type: "TEXT", nullable: false),
                    set_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_set_routes", x => new { x.day, x.person_id });
                    table.ForeignKey(
                        name: "FK_set_routes_users_person_id",
                        column: x => x.person_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "user_claims",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    user_id = table.Column<string>(type: "TEXT", nullable: false),
                    claim_type = table.Column<string>(type: "TEXT", nullable: true),
                    claim_value = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_user_claims", x => x.id);
                    table.ForeignKey(
                        name: "FK_user_claims_users_user_id",
                        column: x => x.user_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "user_logins",
                columns: table => new
                {
                    login_provider = table.Column<string>(type: "TEXT", nullable: false),
                    provider_key = table.Column<string>(type: "TEXT", nullable: false),
                    provider_display_name = table.Column<string>(type: "TEXT", nullable: true),
                    user_id = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_user_logins", x => new { x.login_provider, x.provider_key });
                    table.ForeignKey(
                        name: "FK_user_logins_users_user_id",
                        column: x => x.user_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "user_roles",
                columns: table => new
                {
                    user_id = table.Column<string>(type: "TEXT", nullable: false),
                    role_id = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_user_roles", x => new { x.user_id, x.role_id });
                    table.ForeignKey(
                        name: "FK_user_roles_roles_role_id",
                        column: x => x.role_id,
                        principalTable: "roles",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_user_roles_users_user_id",
                        column: x => x.user_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "user_tokens",
                columns: table => new
                {
                    user_id = table.Column<string>(type: "TEXT", nullable: false),
                    login_provider = table.Column<string>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    value = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_user_tokens", x => new { x.user_id, x.login_provider, x.name });
                    table.ForeignKey(
                        name: "FK_user_tokens_users_user_id",
                        column: x => x.user_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "access_closures",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    access_id = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    to = table.Column<long>(type: "INTEGER", nullable: true),
                    reason = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_access_closures", x => x.id);
                    table.ForeignKey(
                        name: "FK_access_closures_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "duty_hours",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    person_id = table.Column<string>(type: "TEXT", nullable: false),
                    access_id = table.Column<int>(type: "INTEGER", nullable: true),
                    days = table.Column<string>(type: "TEXT", nullable: false),
                    from = table.Column<TimeOnly>(type: "TEXT", nullable: false),
                    to = table.Column<TimeOnly>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_duty_hours", x => x.id);
                    table.ForeignKey(
                        name: "FK_duty_hours_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_duty_hours_users_person_id",
                        column: x => x.person_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "known_days",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    access_id = table.Column<int>(type: "INTEGER", nullable: true),
                    name = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    first_day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    last_day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    factor = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_known_days", x => x.id);
                    table.ForeignKey(
                        name: "FK_known_days_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "count_shifts",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    access_id = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    to = table.Column<long>(type: "INTEGER", nullable: false),
                    counter = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    counted_by_id = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    boats_leaving = table.Column<int>(type: "INTEGER", nullable: false),
                    boats_at_station = table.Column<int>(type: "INTEGER", nullable: false),
                    note = table.Column<string>(type: "TEXT", maxLength: 1000, nullable: true),
                    is_struck = table.Column<bool>(type: "INTEGER", nullable: false),
                    entered = table.Column<long>(type: "INTEGER", nullable: false),
                    version = table.Column<int>(type: "INTEGER", nullable: false),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_count_shifts", x => x.id);
                    table.ForeignKey(
                        name: "FK_count_shifts_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_count_shifts_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "equipment",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    unit_id = table.Column<int>(type: "INTEGER", nullable: true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: true),
                    tag = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    description = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    model = table.Column<string>(type: "TEXT", nullable: false),
                    serial = table.Column<string>(type: "TEXT", nullable: false),
                    acquired = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    cost = table.Column<long>(type: "INTEGER", nullable: true),
                    kept_at = table.Column<string>(type: "TEXT", nullable: false),
                    disposed_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    disposed_how = table.Column<string>(type: "TEXT", nullable: true),
                    sale_price = table.Column<long>(type: "INTEGER", nullable: true),
                    fair_market_value = table.Column<long>(type: "INTEGER", nullable: true),
                    disposed_note = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_equipment", x => x.id);
                    table.ForeignKey(
                        name: "FK_equipment_equipment_unit_id",
                        column: x => x.unit_id,
                        principalTable: "equipment",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_equipment_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "logger_file_imports",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    file_name = table.Column<string>(type: "TEXT", nullable: false),
                    bytes = table.Column<long>(type: "INTEGER", nullable: false),
                    headings = table.Column<string>(type: "TEXT", nullable: false),
                    layout = table.Column<string>(type: "TEXT", nullable: false),
                    end = table.Column<string>(type: "TEXT", nullable: false),
                    counts = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_logger_file_imports", x => x.id);
                    table.ForeignKey(
                        name: "FK_logger_file_imports_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "placements",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    access_id = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    to = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_placements", x => x.id);
                    table.ForeignKey(
                        name: "FK_placements_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_placements_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "problems",
                columns: table => new
                {
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    rule = table.Column<string>(type: "TEXT", nullable: false),
                    part = table.Column<string>(type: "TEXT", nullable: false),
                    urgency = table.Column<string>(type: "TEXT", nullable: false),
                    since = table.Column<long>(type: "INTEGER", nullable: false),
                    evidence = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_problems", x => new { x.station_id, x.rule, x.part });
                    table.ForeignKey(
                        name: "FK_problems_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pump_out_answers",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    pump_out_at = table.Column<long>(type: "INTEGER", nullable: false),
                    person_id = table.Column<string>(type: "TEXT", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    was_them = table.Column<bool>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_pump_out_answers", x => x.id);
                    table.ForeignKey(
                        name: "FK_pump_out_answers_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "rule_changes",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    reason = table.Column<string>(type: "TEXT", nullable: false),
                    settings = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_rule_changes", x => x.id);
                    table.ForeignKey(
                        name: "FK_rule_changes_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "sample_plans",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    due = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    grabs = table.Column<int>(type: "INTEGER", nullable: true),
                    litres_per_grab = table.Column<double>(type: "REAL", nullable: true),
                    reason = table.Column<string>(type: "TEXT", nullable: true),
                    planned_at = table.Column<long>(type: "INTEGER", nullable: false),
                    planned_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    changed_at = table.Column<long>(type: "INTEGER", nullable: true),
                    changed_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: true),
                    dismissed_at = table.Column<long>(type: "INTEGER", nullable: true),
                    dismissed_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: true),
                    dismissed_for = table.Column<string>(type: "TEXT", maxLength: 500, nullable: true),
                    version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_sample_plans", x => x.id);
                    table.ForeignKey(
                        name: "FK_sample_plans_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "samples",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    code = table.Column<string>(type: "TEXT", maxLength: 60, nullable: false),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    access_id = table.Column<int>(type: "INTEGER", nullable: true),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    taking_key = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    taken_at = table.Column<long>(type: "INTEGER", nullable: false),
                    taken_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    litres = table.Column<double>(type: "REAL", nullable: true),
                    mesh_um = table.Column<double>(type: "REAL", nullable: true),
                    water_temp_c = table.Column<double>(type: "REAL", nullable: true),
                    left_litres = table.Column<double>(type: "REAL", nullable: true),
                    rinse_ml = table.Column<double>(type: "REAL", nullable: true),
                    concentrate_ml = table.Column<double>(type: "REAL", nullable: true),
                    preservation = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: true),
                    version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_samples", x => x.id);
                    table.ForeignKey(
                        name: "FK_samples_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_samples_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "signed_checklists",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    list = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    dry_until = table.Column<long>(type: "INTEGER", nullable: true),
                    steps = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", maxLength: 500, nullable: false),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_signed_checklists", x => x.id);
                    table.ForeignKey(
                        name: "FK_signed_checklists_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "station_calibrations",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    low_raw = table.Column<double>(type: "REAL", nullable: false),
                    low_true = table.Column<double>(type: "REAL", nullable: false),
                    high_raw = table.Column<double>(type: "REAL", nullable: false),
                    high_true = table.Column<double>(type: "REAL", nullable: false),
                    air_temp_c = table.Column<double>(type: "REAL", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_station_calibrations", x => x.id);
                    table.ForeignKey(
                        name: "FK_station_calibrations_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "station_keys",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    prefix = table.Column<string>(type: "TEXT", maxLength: 20, nullable: false),
                    hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    created = table.Column<long>(type: "INTEGER", nullable: false),
                    revoked = table.Column<long>(type: "INTEGER", nullable: true),
                    last_used = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_station_keys", x => x.id);
                    table.ForeignKey(
                        name: "FK_station_keys_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "station_powers",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    chemistry = table.Column<string>(type: "TEXT", nullable: false),
                    capacity_ah = table.Column<double>(type: "REAL", nullable: false),
                    nominal_volts = table.Column<double>(type: "REAL", nullable: false),
                    panel_watts = table.Column<double>(type: "REAL", nullable: false),
                    tilt_deg = table.Column<double>(type: "REAL", nullable: false),
                    azimuth_deg = table.Column<double>(type: "REAL", nullable: false),
                    height_m = table.Column<double>(type: "REAL", nullable: false),
                    rest_table = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_station_powers", x => x.id);
                    table.ForeignKey(
                        name: "FK_station_powers_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "station_rules",
                columns: table => new
                {
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    settings = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_station_rules", x => x.station_id);
                    table.ForeignKey(
                        name: "FK_station_rules_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "station_tanks",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    capacity_litres = table.Column<double>(type: "REAL", nullable: false),
                    shape = table.Column<string>(type: "TEXT", nullable: true),
                    sensor_height_m = table.Column<double>(type: "REAL", nullable: true),
                    sensor_assumes_c = table.Column<double>(type: "REAL", nullable: true),
                    sensor_uncertainty = table.Column<double>(type: "REAL", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_station_tanks", x => x.id);
                    table.ForeignKey(
                        name: "FK_station_tanks_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "tickets",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    number = table.Column<int>(type: "INTEGER", nullable: false),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    access_id = table.Column<int>(type: "INTEGER", nullable: true),
                    rule = table.Column<string>(type: "TEXT", nullable: false),
                    part = table.Column<string>(type: "TEXT", nullable: false),
                    state = table.Column<string>(type: "TEXT", nullable: false),
                    raised = table.Column<long>(type: "INTEGER", nullable: false),
                    evidence = table.Column<string>(type: "TEXT", nullable: false),
                    problem_cleared = table.Column<long>(type: "INTEGER", nullable: true),
                    taken_by_id = table.Column<string>(type: "TEXT", nullable: true),
                    taken_at = table.Column<long>(type: "INTEGER", nullable: true),
                    snoozed_until = table.Column<long>(type: "INTEGER", nullable: true),
                    closed = table.Column<long>(type: "INTEGER", nullable: true),
                    done_at = table.Column<long>(type: "INTEGER", nullable: true),
                    closed_by_id = table.Column<string>(type: "TEXT", nullable: true),
                    outcome = table.Column<string>(type: "TEXT", nullable: true),
                    times_reopened = table.Column<int>(type: "INTEGER", nullable: false),
                    version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_tickets", x => x.id);
                    table.ForeignKey(
                        name: "FK_tickets_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_tickets_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "tools",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    slug = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    installed = table.Column<long>(type: "INTEGER", nullable: false),
                    removed = table.Column<long>(type: "INTEGER", nullable: true),
                    idle_after_days = table.Column<double>(type: "REAL", nullable: true),
                    uses_wrap_at = table.Column<double>(type: "REAL", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_tools", x => x.id);
                    table.ForeignKey(
                        name: "FK_tools_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "watch_checkpoints",
                columns: table => new
                {
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    as_of = table.Column<long>(type: "INTEGER", nullable: false),
                    state = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_watch_checkpoints", x => new { x.station_id, x.day });
                    table.ForeignKey(
                        name: "FK_watch_checkpoints_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "watch_positions",
                columns: table => new
                {
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    last_report_id = table.Column<long>(type: "INTEGER", nullable: false),
                    evaluated_to = table.Column<long>(type: "INTEGER", nullable: false),
                    panel_ratio = table.Column<double>(type: "REAL", nullable: true),
                    ahead = table.Column<string>(type: "TEXT", nullable: true),
                    state = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_watch_positions", x => x.station_id);
                    table.ForeignKey(
                        name: "FK_watch_positions_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "winter_storages",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    from = table.Column<long>(type: "INTEGER", nullable: false),
                    to = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_winter_storages", x => x.id);
                    table.ForeignKey(
                        name: "FK_winter_storages_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "known_taxa",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    taxon_id = table.Column<int>(type: "INTEGER", nullable: false),
                    water = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    since = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    basis = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_known_taxa", x => x.id);
                    table.ForeignKey(
                        name: "FK_known_taxa_taxa_taxon_id",
                        column: x => x.taxon_id,
                        principalTable: "taxa",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "award_indicators",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    award_id = table.Column<int>(type: "INTEGER", nullable: false),
                    label = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    description = table.Column<string>(type: "TEXT", maxLength: 300, nullable: false),
                    figure = table.Column<string>(type: "TEXT", nullable: true),
                    target = table.Column<double>(type: "REAL", nullable: true),
                    written = table.Column<double>(type: "REAL", nullable: true),
                    unit = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", maxLength: 1000, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_award_indicators", x => x.id);
                    table.ForeignKey(
                        name: "FK_award_indicators_awards_award_id",
                        column: x => x.award_id,
                        principalTable: "awards",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "award_reports",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    award_id = table.Column<int>(type: "INTEGER", nullable: false),
                    period_end = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    is_final = table.Column<bool>(type: "INTEGER", nullable: false),
                    named_due = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    handed_in = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    reminded = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_award_reports", x => x.id);
                    table.ForeignKey(
                        name: "FK_award_reports_awards_award_id",
                        column: x => x.award_id,
                        principalTable: "awards",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "award_stations",
                columns: table => new
                {
                    award_id = table.Column<int>(type: "INTEGER", nullable: false),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_award_stations", x => new { x.award_id, x.station_id });
                    table.ForeignKey(
                        name: "FK_award_stations_awards_award_id",
                        column: x => x.award_id,
                        principalTable: "awards",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_award_stations_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "cost_entries",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    what = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    amount = table.Column<long>(type: "INTEGER", nullable: false),
                    station_id = table.Column<int>(type: "INTEGER", nullable: true),
                    award_id = table.Column<int>(type: "INTEGER", nullable: true),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    entered = table.Column<long>(type: "INTEGER", nullable: false),
                    entered_by = table.Column<string>(type: "TEXT", nullable: false),
                    reverses_id = table.Column<int>(type: "INTEGER", nullable: true),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_cost_entries", x => x.id);
                    table.ForeignKey(
                        name: "FK_cost_entries_awards_award_id",
                        column: x => x.award_id,
                        principalTable: "awards",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_cost_entries_cost_entries_reverses_id",
                        column: x => x.reverses_id,
                        principalTable: "cost_entries",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_cost_entries_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "time_entries",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    person = table.Column<string>(type: "TEXT", maxLength: 80, nullable: false),
                    day = table.Column<DateOnly>(type: "TEXT", nullable: false),
                    start_minute = table.Column<int>(type: "INTEGER", nullable: false),
                    minutes = table.Column<int>(type: "INTEGER", nullable: false),
                    activity = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    station_id = table.Column<int>(type: "INTEGER", nullable: true),
                    award_id = table.Column<int>(type: "INTEGER", nullable: true),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    rate_per_hour = table.Column<long>(type: "INTEGER", nullable: false),
                    entered = table.Column<long>(type: "INTEGER", nullable: false),
                    entered_by = table.Column<string>(type: "TEXT", nullable: false),
                    reverses_id = table.Column<int>(type: "INTEGER", nullable: true),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_time_entries", x => x.id);
                    table.ForeignKey(
                        name: "FK_time_entries_awards_award_id",
                        column: x => x.award_id,
                        principalTable: "awards",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_time_entries_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_time_entries_time_entries_reverses_id",
                        column: x => x.reverses_id,
                        principalTable: "time_entries",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "count_shift_events",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    shift_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    what = table.Column<string>(type: "TEXT", maxLength: 4000, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_count_shift_events", x => x.id);
                    table.ForeignKey(
                        name: "FK_count_shift_events_count_shifts_shift_id",
                        column: x => x.shift_id,
                        principalTable: "count_shifts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "counted_tool_uses",
                columns: table => new
                {
                    shift_id = table.Column<int>(type: "INTEGER", nullable: false),
                    tool = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    uses = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_counted_tool_uses", x => new { x.shift_id, x.tool });
                    table.ForeignKey(
                        name: "FK_counted_tool_uses_count_shifts_shift_id",
                        column: x => x.shift_id,
                        principalTable: "count_shifts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "equipment_shares",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    item_id = table.Column<int>(type: "INTEGER", nullable: false),
                    owner_id = table.Column<int>(type: "INTEGER", nullable: true),
                    award_id = table.Column<int>(type: "INTEGER", nullable: true),
                    share = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_equipment_shares", x => x.id);
                    table.ForeignKey(
                        name: "FK_equipment_shares_agencies_owner_id",
                        column: x => x.owner_id,
                        principalTable: "agencies",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_equipment_shares_awards_award_id",
                        column: x => x.award_id,
                        principalTable: "awards",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_equipment_shares_equipment_item_id",
                        column: x => x.item_id,
                        principalTable: "equipment",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "equipment_sightings",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    item_id = table.Column<int>(type: "INTEGER", nullable: false),
                    inventory_id = table.Column<int>(type: "INTEGER", nullable: true),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    was_seen = table.Column<bool>(type: "INTEGER", nullable: false),
                    place = table.Column<string>(type: "TEXT", nullable: false),
                    serial = table.Column<string>(type: "TEXT", nullable: false),
                    condition = table.Column<string>(type: "TEXT", nullable: true),
                    use = table.Column<string>(type: "TEXT", nullable: true),
                    note = table.Column<string>(type: "TEXT", maxLength: 1000, nullable: false),
                    expected_place = table.Column<string>(type: "TEXT", nullable: false),
                    expected_serial = table.Column<string>(type: "TEXT", nullable: false),
                    resolution = table.Column<string>(type: "TEXT", nullable: true),
                    resolved_by = table.Column<string>(type: "TEXT", nullable: true),
                    resolved = table.Column<long>(type: "INTEGER", nullable: true),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_equipment_sightings", x => x.id);
                    table.ForeignKey(
                        name: "FK_equipment_sightings_equipment_inventories_inventory_id",
                        column: x => x.inventory_id,
                        principalTable: "equipment_inventories",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_equipment_sightings_equipment_item_id",
                        column: x => x.item_id,
                        principalTable: "equipment",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "custody_steps",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    sample_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    relinquished_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    received_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    seal = table.Column<string>(type: "TEXT", nullable: true),
                    preservative = table.Column<string>(type: "TEXT", nullable: true),
                    courier = table.Column<string>(type: "TEXT", nullable: true),
                    laboratory_number = table.Column<string>(type: "TEXT", nullable: true),
                    promised = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_custody_steps", x => x.id);
                    table.ForeignKey(
                        name: "FK_custody_steps_samples_sample_id",
                        column: x => x.sample_id,
                        principalTable: "samples",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "piece_finds",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    sample_id = table.Column<int>(type: "INTEGER", nullable: false),
                    taxon_id = table.Column<int>(type: "INTEGER", nullable: false),
                    is_present = table.Column<bool>(type: "INTEGER", nullable: false),
                    pieces = table.Column<int>(type: "INTEGER", nullable: true),
                    weight_g = table.Column<double>(type: "REAL", nullable: true),
                    identified_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    confidence = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_piece_finds", x => x.id);
                    table.ForeignKey(
                        name: "FK_piece_finds_samples_sample_id",
                        column: x => x.sample_id,
                        principalTable: "samples",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_piece_finds_taxa_taxon_id",
                        column: x => x.taxon_id,
                        principalTable: "taxa",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "sample_aliquots",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    sample_id = table.Column<int>(type: "INTEGER", nullable: false),
                    number = table.Column<int>(type: "INTEGER", nullable: false),
                    examined_ml = table.Column<double>(type: "REAL", nullable: false),
                    counted_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    counted_at = table.Column<long>(type: "INTEGER", nullable: false),
                    recount_of = table.Column<int>(type: "INTEGER", nullable: true),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_sample_aliquots", x => x.id);
                    table.ForeignKey(
                        name: "FK_sample_aliquots_samples_sample_id",
                        column: x => x.sample_id,
                        principalTable: "samples",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "sample_events",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    sample_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    what = table.Column<string>(type: "TEXT", maxLength: 4000, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_sample_events", x => x.id);
                    table.ForeignKey(
                        name: "FK_sample_events_samples_sample_id",
                        column: x => x.sample_id,
                        principalTable: "samples",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "new_finds",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    taxon_id = table.Column<int>(type: "INTEGER", nullable: false),
                    water = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    sample_id = table.Column<int>(type: "INTEGER", nullable: false),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: false),
                    found_at = table.Column<long>(type: "INTEGER", nullable: false),
                    deadline = table.Column<long>(type: "INTEGER", nullable: true),
                    state = table.Column<string>(type: "TEXT", nullable: false),
                    version = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_new_finds", x => x.id);
                    table.ForeignKey(
                        name: "FK_new_finds_samples_sample_id",
                        column: x => x.sample_id,
                        principalTable: "samples",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_new_finds_taxa_taxon_id",
                        column: x => x.taxon_id,
                        principalTable: "taxa",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_new_finds_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "outgoing_mails",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    message_id = table.Column<string>(type: "TEXT", nullable: false),
                    thread_id = table.Column<string>(type: "TEXT", nullable: true),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: true),
                    to = table.Column<string>(type: "TEXT", nullable: false),
                    subject = table.Column<string>(type: "TEXT", nullable: false),
                    text = table.Column<string>(type: "TEXT", nullable: false),
                    html = table.Column<string>(type: "TEXT", nullable: false),
                    created = table.Column<long>(type: "INTEGER", nullable: false),
                    state = table.Column<string>(type: "TEXT", nullable: false),
                    attempts = table.Column<int>(type: "INTEGER", nullable: false),
                    next_at = table.Column<long>(type: "INTEGER", nullable: false),
                    last_reply = table.Column<string>(type: "TEXT", nullable: true),
                    sent = table.Column<long>(type: "INTEGER", nullable: true),
                    person_id = table.Column<string>(type: "TEXT", nullable: true),
                    reply_token = table.Column<string>(type: "TEXT", nullable: true),
                    unsubscribe_url = table.Column<string>(type: "TEXT", nullable: true),
                    answers = table.Column<string>(type: "TEXT", nullable: true),
                    bounced = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_outgoing_mails", x => x.id);
                    table.ForeignKey(
                        name: "FK_outgoing_mails_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_outgoing_mails_users_person_id",
                        column: x => x.person_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.SetNull);
                });

            migrationBuilder.CreateTable(
                name: "photographs",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    file = table.Column<string>(type: "TEXT", nullable: false),
                    width = table.Column<int>(type: "INTEGER", nullable: false),
                    height = table.Column<int>(type: "INTEGER", nullable: false),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_photographs", x => x.id);
                    table.ForeignKey(
                        name: "FK_photographs_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "public_reports",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    access_id = table.Column<int>(type: "INTEGER", nullable: false),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    part = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    trouble = table.Column<string>(type: "TEXT", nullable: false),
                    words = table.Column<string>(type: "TEXT", maxLength: 500, nullable: false),
                    state = table.Column<string>(type: "TEXT", nullable: false),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: true),
                    decided_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: true),
                    decided_at = table.Column<long>(type: "INTEGER", nullable: true),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_public_reports", x => x.id);
                    table.ForeignKey(
                        name: "FK_public_reports_accesses_access_id",
                        column: x => x.access_id,
                        principalTable: "accesses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_public_reports_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_public_reports_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "service_visits",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: true),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    minutes = table.Column<int>(type: "INTEGER", nullable: true),
                    note = table.Column<string>(type: "TEXT", maxLength: 4000, nullable: true),
                    hours = table.Column<string>(type: "TEXT", nullable: true),
                    award = table.Column<string>(type: "TEXT", maxLength: 60, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_service_visits", x => x.id);
                    table.ForeignKey(
                        name: "FK_service_visits_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_service_visits_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ticket_events",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: true),
                    note = table.Column<string>(type: "TEXT", maxLength: 4000, nullable: true),
                    idempotency_key = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ticket_events", x => x.id);
                    table.ForeignKey(
                        name: "FK_ticket_events_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "aliquot_counts",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    aliquot_id = table.Column<int>(type: "INTEGER", nullable: false),
                    taxon_id = table.Column<int>(type: "INTEGER", nullable: false),
                    stage = table.Column<string>(type: "TEXT", nullable: false),
                    count = table.Column<int>(type: "INTEGER", nullable: false),
                    identified_by = table.Column<string>(type: "TEXT", maxLength: 120, nullable: false),
                    confidence = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_aliquot_counts", x => x.id);
                    table.ForeignKey(
                        name: "FK_aliquot_counts_sample_aliquots_aliquot_id",
                        column: x => x.aliquot_id,
                        principalTable: "sample_aliquots",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_aliquot_counts_taxa_taxon_id",
                        column: x => x.taxon_id,
                        principalTable: "taxa",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "find_events",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    find_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    became = table.Column<string>(type: "TEXT", nullable: true),
                    told = table.Column<string>(type: "TEXT", maxLength: 200, nullable: true),
                    note = table.Column<string>(type: "TEXT", maxLength: 2000, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_find_events", x => x.id);
                    table.ForeignKey(
                        name: "FK_find_events_new_finds_find_id",
                        column: x => x.find_id,
                        principalTable: "new_finds",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "received_mails",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    mailbox = table.Column<string>(type: "TEXT", nullable: false),
                    uid = table.Column<long>(type: "INTEGER", nullable: false),
                    identity = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    from = table.Column<string>(type: "TEXT", nullable: false),
                    subject = table.Column<string>(type: "TEXT", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    mail_id = table.Column<int>(type: "INTEGER", nullable: true),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: true),
                    words = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_received_mails", x => x.id);
                    table.ForeignKey(
                        name: "FK_received_mails_outgoing_mails_mail_id",
                        column: x => x.mail_id,
                        principalTable: "outgoing_mails",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_received_mails_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "part_moves",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    part_id = table.Column<int>(type: "INTEGER", nullable: false),
                    place = table.Column<string>(type: "TEXT", nullable: false),
                    change = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    who = table.Column<string>(type: "TEXT", nullable: false),
                    visit_id = table.Column<int>(type: "INTEGER", nullable: true),
                    note = table.Column<string>(type: "TEXT", maxLength: 200, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_part_moves", x => x.id);
                    table.ForeignKey(
                        name: "FK_part_moves_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "parts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_part_moves_service_visits_visit_id",
                        column: x => x.visit_id,
                        principalTable: "service_visits",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pump_outs",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    station_id = table.Column<int>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    litres = table.Column<double>(type: "REAL", nullable: false),
                    source = table.Column<string>(type: "TEXT", nullable: false),
                    visit_id = table.Column<int>(type: "INTEGER", nullable: true),
                    disposal_site_id = table.Column<int>(type: "INTEGER", nullable: true),
                    readings = table.Column<string>(type: "TEXT", nullable: true),
                    dip_litres = table.Column<double>(type: "REAL", nullable: true),
                    dip_level_m = table.Column<double>(type: "REAL", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_pump_outs", x => x.id);
                    table.ForeignKey(
                        name: "FK_pump_outs_disposal_sites_disposal_site_id",
                        column: x => x.disposal_site_id,
                        principalTable: "disposal_sites",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_pump_outs_service_visits_visit_id",
                        column: x => x.visit_id,
                        principalTable: "service_visits",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_pump_outs_stations_station_id",
                        column: x => x.station_id,
                        principalTable: "stations",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "visit_tickets",
                columns: table => new
                {
                    visit_id = table.Column<int>(type: "INTEGER", nullable: false),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_visit_tickets", x => new { x.visit_id, x.ticket_id });
                    table.ForeignKey(
                        name: "FK_visit_tickets_service_visits_visit_id",
                        column: x => x.visit_id,
                        principalTable: "service_visits",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "FK_visit_tickets_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "ticket_calls",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    ticket_id = table.Column<int>(type: "INTEGER", nullable: false),
                    event_id = table.Column<int>(type: "INTEGER", nullable: false),
                    person_id = table.Column<string>(type: "TEXT", nullable: false),
                    reason = table.Column<string>(type: "TEXT", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false),
                    mail_id = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_ticket_calls", x => x.id);
                    table.ForeignKey(
                        name: "FK_ticket_calls_outgoing_mails_mail_id",
                        column: x => x.mail_id,
                        principalTable: "outgoing_mails",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ticket_calls_ticket_events_event_id",
                        column: x => x.event_id,
                        principalTable: "ticket_events",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ticket_calls_tickets_ticket_id",
                        column: x => x.ticket_id,
                        principalTable: "tickets",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "FK_ticket_calls_users_person_id",
                        column: x => x.person_id,
                        principalTable: "users",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.InsertData(
                table: "award_terms",
                columns: new[] { "id", "terms" },
                values: new object[,]
                {
                    { 1, "{\"name\":\"US federal, awards since October 2024\",\"numberName\":\"FAIN\",\"equipmentFrom\":{\"cents\":1000000,\"amount\":10000},\"nothingOwedUpTo\":{\"cents\":1000000,\"amount\":10000},\"mostForHandling\":{\"cents\":100000,\"amount\":1000},\"handlingShare\":{\"hundredths\":1000,\"fraction\":0.1},\"instructionsWithinDays\":120,\"inventoryEveryMonths\":24,\"keepYears\":3,\"quarterDueDays\":30,\"halfYearDueDays\":30,\"yearDueDays\":90,\"finalDueDays\":120,\"finalDueDaysSubrecipient\":90,\"source\":\"2 CFR 200.313, .329, .334 and .344 as revised on 22 April 2024 (89 FR 30136)\"}" },
                    { 2, "{\"name\":\"US federal, awards before October 2024\",\"numberName\":\"FAIN\",\"equipmentFrom\":{\"cents\":500000,\"amount\":5000},\"nothingOwedUpTo\":{\"cents\":500000,\"amount\":5000},\"mostForHandling\":{\"cents\":50000,\"amount\":500},\"handlingShare\":{\"hundredths\":1000,\"fraction\":0.1},\"instructionsWithinDays\":120,\"inventoryEveryMonths\":24,\"keepYears\":3,\"quarterDueDays\":30,\"halfYearDueDays\":30,\"yearDueDays\":90,\"finalDueDays\":120,\"finalDueDaysSubrecipient\":90,\"source\":\"2 CFR 200.313, .329, .334 and .344 before that revision\"}" }
                });

            migrationBuilder.CreateIndex(
                name: "IX_absences_person_id",
                table: "absences",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "IX_absences_stand_in_id",
                table: "absences",
                column: "stand_in_id");

            migrationBuilder.CreateIndex(
                name: "IX_access_closures_access_id_from",
                table: "access_closures",
                columns: new[] { "access_id", "from" });

            migrationBuilder.CreateIndex(
                name: "IX_accesses_host_id",
                table: "accesses",
                column: "host_id");

            migrationBuilder.CreateIndex(
                name: "IX_accesses_slug",
                table: "accesses",
                column: "slug",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_agencies_name",
                table: "agencies",
                column: "name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_aliquot_counts_aliquot_id_taxon_id_stage",
                table: "aliquot_counts",
                columns: new[] { "aliquot_id", "taxon_id", "stage" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_aliquot_counts_taxon_id",
                table: "aliquot_counts",
                column: "taxon_id");

            migrationBuilder.CreateIndex(
                name: "IX_award_indicators_award_id_label",
                table: "award_indicators",
                columns: new[] { "award_id", "label" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_award_reports_award_id_period_end_is_final",
                table: "award_reports",
                columns: new[] { "award_id", "period_end", "is_final" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_award_stations_station_id",
                table: "award_stations",
                column: "station_id");

            migrationBuilder.CreateIndex(
                name: "IX_awards_number",
                table: "awards",
                column: "number",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_awards_terms_id",
                table: "awards",
                column: "terms_id");

            migrationBuilder.CreateIndex(
                name: "IX_cost_entries_award_id",
                table: "cost_entries",
                column: "award_id");

            migrationBuilder.CreateIndex(
                name: "IX_cost_entries_day",
                table: "cost_entries",
                column: "day");

            migrationBuilder.CreateIndex(
                name: "IX_cost_entries_idempotency_key",
                table: "cost_entries",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_cost_entries_reverses_id",
                table: "cost_entries",
                column: "reverses_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_cost_entries_station_id",
                table: "cost_entries",
                column: "station_id");

            migrationBuilder.CreateIndex(
                name: "IX_count_shift_events_shift_id_at",
                table: "count_shift_events",
                columns: new[] { "shift_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_count_shifts_access_id",
                table: "count_shifts",
                column: "access_id");

            migrationBuilder.CreateIndex(
                name: "IX_count_shifts_counted_by_id_from",
                table: "count_shifts",
                columns: new[] { "counted_by_id", "from" });

            migrationBuilder.CreateIndex(
                name: "IX_count_shifts_idempotency_key",
                table: "count_shifts",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_count_shifts_station_id_from",
                table: "count_shifts",
                columns: new[] { "station_id", "from" });

            migrationBuilder.CreateIndex(
                name: "IX_custody_steps_idempotency_key_sample_id",
                table: "custody_steps",
                columns: new[] { "idempotency_key", "sample_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_custody_steps_sample_id_at",
                table: "custody_steps",
                columns: new[] { "sample_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_disposal_sites_name",
                table: "disposal_sites",
                column: "name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_duty_hours_access_id",
                table: "duty_hours",
                column: "access_id");

            migrationBuilder.CreateIndex(
                name: "IX_duty_hours_person_id",
                table: "duty_hours",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "IX_equipment_station_id",
                table: "equipment",
                column: "station_id");

            migrationBuilder.CreateIndex(
                name: "IX_equipment_tag",
                table: "equipment",
                column: "tag",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_equipment_unit_id",
                table: "equipment",
                column: "unit_id");

            migrationBuilder.CreateIndex(
                name: "IX_equipment_shares_award_id",
                table: "equipment_shares",
                column: "award_id");

            migrationBuilder.CreateIndex(
                name: "IX_equipment_shares_item_id",
                table: "equipment_shares",
                column: "item_id");

            migrationBuilder.CreateIndex(
                name: "IX_equipment_shares_owner_id",
                table: "equipment_shares",
                column: "owner_id");

            migrationBuilder.CreateIndex(
                name: "IX_equipment_sightings_idempotency_key",
                table: "equipment_sightings",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_equipment_sightings_inventory_id",
                table: "equipment_sightings",
                column: "inventory_id");

            migrationBuilder.CreateIndex(
                name: "IX_equipment_sightings_item_id_at",
                table: "equipment_sightings",
                columns: new[] { "item_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_find_events_find_id_at",
                table: "find_events",
                columns: new[] { "find_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_guidance_changes_rule_id",
                table: "guidance_changes",
                columns: new[] { "rule", "id" });

            migrationBuilder.CreateIndex(
                name: "IX_known_days_access_id",
                table: "known_days",
                column: "access_id");

            migrationBuilder.CreateIndex(
                name: "IX_known_taxa_taxon_id_water",
                table: "known_taxa",
                columns: new[] { "taxon_id", "water" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_logger_file_imports_station_id_at",
                table: "logger_file_imports",
                columns: new[] { "station_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_new_finds_one_open",
                table: "new_finds",
                columns: new[] { "taxon_id", "water" },
                unique: true,
                filter: "\"State\" IN ('Presumptive', 'Confirmed')");

            migrationBuilder.CreateIndex(
                name: "IX_new_finds_sample_id",
                table: "new_finds",
                column: "sample_id");

            migrationBuilder.CreateIndex(
                name: "IX_new_finds_ticket_id",
                table: "new_finds",
                column: "ticket_id");

            migrationBuilder.CreateIndex(
                name: "IX_outgoing_mails_key",
                table: "outgoing_mails",
                column: "key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_outgoing_mails_message_id",
                table: "outgoing_mails",
                column: "message_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_outgoing_mails_person_id",
                table: "outgoing_mails",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "IX_outgoing_mails_reply_token",
                table: "outgoing_mails",
                column: "reply_token",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_outgoing_mails_state_next_at",
                table: "outgoing_mails",
                columns: new[] { "state", "next_at" });

            migrationBuilder.CreateIndex(
                name: "IX_outgoing_mails_ticket_id",
                table: "outgoing_mails",
                column: "ticket_id");

            migrationBuilder.CreateIndex(
                name: "IX_outings_one_out",
                table: "outings",
                column: "person_id",
                unique: true,
                filter: "\"Back\" IS NULL");

            migrationBuilder.CreateIndex(
                name: "IX_part_moves_part_id_place",
                table: "part_moves",
                columns: new[] { "part_id", "place" });

            migrationBuilder.CreateIndex(
                name: "IX_part_moves_visit_id",
                table: "part_moves",
                column: "visit_id");

            migrationBuilder.CreateIndex(
                name: "IX_parts_name",
                table: "parts",
                column: "name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_photographs_idempotency_key",
                table: "photographs",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_photographs_ticket_id_id",
                table: "photographs",
                columns: new[] { "ticket_id", "id" });

            migrationBuilder.CreateIndex(
                name: "IX_piece_finds_sample_id_taxon_id",
                table: "piece_finds",
                columns: new[] { "sample_id", "taxon_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_piece_finds_taxon_id",
                table: "piece_finds",
                column: "taxon_id");

            migrationBuilder.CreateIndex(
                name: "IX_placements_access_id",
                table: "placements",
                column: "access_id");

            migrationBuilder.CreateIndex(
                name: "IX_placements_station_id_from",
                table: "placements",
                columns: new[] { "station_id", "from" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_public_reports_access_id",
                table: "public_reports",
                column: "access_id");

            migrationBuilder.CreateIndex(
                name: "IX_public_reports_idempotency_key",
                table: "public_reports",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_public_reports_state_at",
                table: "public_reports",
                columns: new[] { "state", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_public_reports_station_id",
                table: "public_reports",
                column: "station_id");

            migrationBuilder.CreateIndex(
                name: "IX_public_reports_ticket_id",
                table: "public_reports",
                column: "ticket_id");

            migrationBuilder.CreateIndex(
                name: "IX_pump_out_answers_station_id_pump_out_at_person_id",
                table: "pump_out_answers",
                columns: new[] { "station_id", "pump_out_at", "person_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_pump_outs_disposal_site_id",
                table: "pump_outs",
                column: "disposal_site_id");

            migrationBuilder.CreateIndex(
                name: "IX_pump_outs_station_id_at_source",
                table: "pump_outs",
                columns: new[] { "station_id", "at", "source" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_pump_outs_visit_id",
                table: "pump_outs",
                column: "visit_id");

            migrationBuilder.CreateIndex(
                name: "IX_received_mails_at",
                table: "received_mails",
                column: "at");

            migrationBuilder.CreateIndex(
                name: "IX_received_mails_identity",
                table: "received_mails",
                column: "identity");

            migrationBuilder.CreateIndex(
                name: "IX_received_mails_mail_id",
                table: "received_mails",
                column: "mail_id");

            migrationBuilder.CreateIndex(
                name: "IX_received_mails_mailbox_uid",
                table: "received_mails",
                columns: new[] { "mailbox", "uid" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_received_mails_ticket_id",
                table: "received_mails",
                column: "ticket_id");

            migrationBuilder.CreateIndex(
                name: "IX_role_claims_role_id",
                table: "role_claims",
                column: "role_id");

            migrationBuilder.CreateIndex(
                name: "RoleNameIndex",
                table: "roles",
                column: "normalized_name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_rule_changes_station_id_at",
                table: "rule_changes",
                columns: new[] { "station_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_sample_aliquots_idempotency_key",
                table: "sample_aliquots",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_sample_aliquots_sample_id_number",
                table: "sample_aliquots",
                columns: new[] { "sample_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_sample_events_sample_id_at",
                table: "sample_events",
                columns: new[] { "sample_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_sample_plans_station_id_due",
                table: "sample_plans",
                columns: new[] { "station_id", "due" });

            migrationBuilder.CreateIndex(
                name: "IX_samples_access_id",
                table: "samples",
                column: "access_id");

            migrationBuilder.CreateIndex(
                name: "IX_samples_code",
                table: "samples",
                column: "code",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_samples_station_id_taken_at",
                table: "samples",
                columns: new[] { "station_id", "taken_at" });

            migrationBuilder.CreateIndex(
                name: "IX_samples_taking_key",
                table: "samples",
                column: "taking_key");

            migrationBuilder.CreateIndex(
                name: "IX_server_downtimes_to",
                table: "server_downtimes",
                column: "to");

            migrationBuilder.CreateIndex(
                name: "IX_service_visits_station_id_at",
                table: "service_visits",
                columns: new[] { "station_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_service_visits_ticket_id",
                table: "service_visits",
                column: "ticket_id");

            migrationBuilder.CreateIndex(
                name: "IX_set_routes_person_id",
                table: "set_routes",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "IX_signed_checklists_idempotency_key",
                table: "signed_checklists",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_signed_checklists_station_id_list_at",
                table: "signed_checklists",
                columns: new[] { "station_id", "list", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_station_calibrations_station_id_name_from",
                table: "station_calibrations",
                columns: new[] { "station_id", "name", "from" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_station_keys_prefix",
                table: "station_keys",
                column: "prefix",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_station_keys_station_id",
                table: "station_keys",
                column: "station_id");

            migrationBuilder.CreateIndex(
                name: "IX_station_powers_station_id_from",
                table: "station_powers",
                columns: new[] { "station_id", "from" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_station_tanks_station_id_from",
                table: "station_tanks",
                columns: new[] { "station_id", "from" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_stations_code",
                table: "stations",
                column: "code",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_stations_operator_id",
                table: "stations",
                column: "operator_id");

            migrationBuilder.CreateIndex(
                name: "IX_stations_owner_id",
                table: "stations",
                column: "owner_id");

            migrationBuilder.CreateIndex(
                name: "IX_taxa_agency_id_scientific_name",
                table: "taxa",
                columns: new[] { "agency_id", "scientific_name" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_ticket_calls_event_id_person_id",
                table: "ticket_calls",
                columns: new[] { "event_id", "person_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_ticket_calls_mail_id",
                table: "ticket_calls",
                column: "mail_id");

            migrationBuilder.CreateIndex(
                name: "IX_ticket_calls_person_id",
                table: "ticket_calls",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "IX_ticket_calls_ticket_id_person_id",
                table: "ticket_calls",
                columns: new[] { "ticket_id", "person_id" });

            migrationBuilder.CreateIndex(
                name: "IX_ticket_events_idempotency_key",
                table: "ticket_events",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_ticket_events_ticket_id_at",
                table: "ticket_events",
                columns: new[] { "ticket_id", "at" });

            migrationBuilder.CreateIndex(
                name: "IX_tickets_access_id",
                table: "tickets",
                column: "access_id");

            migrationBuilder.CreateIndex(
                name: "IX_tickets_number",
                table: "tickets",
                column: "number",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_tickets_one_open",
                table: "tickets",
                columns: new[] { "station_id", "rule", "part" },
                unique: true,
                filter: "\"State\" <> 'Closed'");

            migrationBuilder.CreateIndex(
                name: "IX_tickets_station_id_raised",
                table: "tickets",
                columns: new[] { "station_id", "raised" });

            migrationBuilder.CreateIndex(
                name: "IX_time_entries_award_id",
                table: "time_entries",
                column: "award_id");

            migrationBuilder.CreateIndex(
                name: "IX_time_entries_day_person",
                table: "time_entries",
                columns: new[] { "day", "person" });

            migrationBuilder.CreateIndex(
                name: "IX_time_entries_idempotency_key",
                table: "time_entries",
                column: "idempotency_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_time_entries_reverses_id",
                table: "time_entries",
                column: "reverses_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_time_entries_station_id",
                table: "time_entries",
                column: "station_id");

            migrationBuilder.CreateIndex(
                name: "IX_tools_station_id_slug_installed",
                table: "tools",
                columns: new[] { "station_id", "slug", "installed" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_user_claims_user_id",
                table: "user_claims",
                column: "user_id");

            migrationBuilder.CreateIndex(
                name: "IX_user_logins_user_id",
                table: "user_logins",
                column: "user_id");

            migrationBuilder.CreateIndex(
                name: "IX_user_roles_role_id",
                table: "user_roles",
                column: "role_id");

            migrationBuilder.CreateIndex(
                name: "EmailIndex",
                table: "users",
                column: "normalized_email");

            migrationBuilder.CreateIndex(
                name: "UserNameIndex",
                table: "users",
                column: "normalized_user_name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_visit_tickets_ticket_id",
                table: "visit_tickets",
                column: "ticket_id");

            migrationBuilder.CreateIndex(
                name: "IX_winter_storages_station_id_from",
                table: "winter_storages",
                columns: new[] { "station_id", "from" });

            migrationBuilder.CreateIndex(
                name: "IX_yards_name",
                table: "yards",
                column: "name",
                unique: true);

            migrationBuilder.Sql(Telemetry.MeasurementTables.Create);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql(Telemetry.MeasurementTables.Drop);

            migrationBuilder.DropTable(
                name: "absences");

            migrationBuilder.DropTable(
                name: "access_closures");

            migrationBuilder.DropTable(
                name: "aliquot_counts");

            migrationBuilder.DropTable(
                name: "award_indicators");

            migrationBuilder.DropTable(
                name: "award_reports");

            migrationBuilder.DropTable(
                name: "award_stations");

            migrationBuilder.DropTable(
                name: "cost_entries");

            migrationBuilder.DropTable(
                name: "count_shift_events");

            migrationBuilder.DropTable(
                name: "counted_tool_uses");

            migrationBuilder.DropTable(
                name: "custody_steps");

            migrationBuilder.DropTable(
                name: "duty_hours");

            migrationBuilder.DropTable(
                name: "equipment_shares");

            migrationBuilder.DropTable(
                name: "equipment_sightings");

            migrationBuilder.DropTable(
                name: "find_events");

            migrationBuilder.DropTable(
                name: "guidance_changes");

            migrationBuilder.DropTable(
                name: "known_days");

            migrationBuilder.DropTable(
                name: "known_drives");

            migrationBuilder.DropTable(
                name: "known_taxa");

            migrationBuilder.DropTable(
                name: "logger_file_imports");

            migrationBuilder.DropTable(
                name: "mail_choices");

            migrationBuilder.DropTable(
                name: "outings");

            migrationBuilder.DropTable(
                name: "part_moves");

            migrationBuilder.DropTable(
                name: "photographs");

            migrationBuilder.DropTable(
                name: "piece_finds");

            migrationBuilder.DropTable(
                name: "placements");

            migrationBuilder.DropTable(
                name: "problems");

            migrationBuilder.DropTable(
                name: "public_reports");

            migrationBuilder.DropTable(
                name: "pump_out_answers");

            migrationBuilder.DropTable(
                name: "pump_outs");

            migrationBuilder.DropTable(
                name: "received_mails");

            migrationBuilder.DropTable(
                name: "role_claims");

            migrationBuilder.DropTable(
                name: "rule_changes");

            migrationBuilder.DropTable(
                name: "sample_events");

            migrationBuilder.DropTable(
                name: "sample_plans");

            migrationBuilder.DropTable(
                name: "server_downtimes");

            migrationBuilder.DropTable(
                name: "set_routes");

            migrationBuilder.DropTable(
                name: "settings");

            migrationBuilder.DropTable(
                name: "signed_checklists");

            migrationBuilder.DropTable(
                name: "station_calibrations");

            migrationBuilder.DropTable(
                name: "station_keys");

            migrationBuilder.DropTable(
                name: "station_powers");

            migrationBuilder.DropTable(
                name: "station_rules");

            migrationBuilder.DropTable(
                name: "station_tanks");

            migrationBuilder.DropTable(
                name: "submitted_summaries");

            migrationBuilder.DropTable(
                name: "ticket_calls");

            migrationBuilder.DropTable(
                name: "time_entries");

            migrationBuilder.DropTable(
                name: "tools");

            migrationBuilder.DropTable(
                name: "user_claims");

            migrationBuilder.DropTable(
                name: "user_logins");

            migrationBuilder.DropTable(
                name: "user_roles");

            migrationBuilder.DropTable(
                name: "user_tokens");

            migrationBuilder.DropTable(
                name: "visit_tickets");

            migrationBuilder.DropTable(
                name: "watch_checkpoints");

            migrationBuilder.DropTable(
                name: "watch_positions");

            migrationBuilder.DropTable(
                name: "winter_storages");

            migrationBuilder.DropTable(
                name: "yards");

            migrationBuilder.DropTable(
                name: "sample_aliquots");

            migrationBuilder.DropTable(
                name: "count_shifts");

            migrationBuilder.DropTable(
                name: "equipment_inventories");

            migrationBuilder.DropTable(
                name: "equipment");

            migrationBuilder.DropTable(
                name: "new_finds");

            migrationBuilder.DropTable(
                name: "parts");

            migrationBuilder.DropTable(
                name: "disposal_sites");

            migrationBuilder.DropTable(
                name: "outgoing_mails");

            migrationBuilder.DropTable(
                name: "ticket_events");

            migrationBuilder.DropTable(
                name: "awards");

            migrationBuilder.DropTable(
                name: "roles");

            migrationBuilder.DropTable(
                name: "service_visits");

            migrationBuilder.DropTable(
                name: "samples");

            migrationBuilder.DropTable(
                name: "taxa");

            migrationBuilder.DropTable(
                name: "users");

            migrationBuilder.DropTable(
                name: "award_terms");

            migrationBuilder.DropTable(
                name: "tickets");

            migrationBuilder.DropTable(
                name: "accesses");

            migrationBuilder.DropTable(
                name: "stations");

            migrationBuilder.DropTable(
                name: "agencies");
        }
    }
}
