using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class FirstRecord : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "AspNetRoles",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    normalized_name = table.Column<string>(type: "TEXT", maxLength: 256, nullable: true),
                    concurrency_stamp = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_roles", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "case_number_counters",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    year = table.Column<int>(type: "INTEGER", nullable: false),
                    last = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_case_number_counters", x => new { x.clinic_id, x.year });
                });

            migrationBuilder.CreateTable(
                name: "cases",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_number = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    patient_ref = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    surgeon_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    twelve_o_clock = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    facts = table.Column<string>(type: "TEXT", nullable: false),
                    opened_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    opened_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    opened_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_cases", x => new { x.clinic_id, x.id });
                });

            migrationBuilder.CreateTable(
                name: "clinics",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    time_zone = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    overlap_minutes = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_clinics", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "data_protection_keys",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    friendly_name = table.Column<string>(type: "TEXT", nullable: true),
                    xml = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_data_protection_keys", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "history",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    sequence = table.Column<int>(type: "INTEGER", nullable: false),
                    by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    what = table.Column<string>(type: "TEXT", maxLength: 40, nullable: false),
                    content = table.Column<string>(type: "TEXT", nullable: false),
                    rows = table.Column<string>(type: "TEXT", nullable: false),
                    previous_hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    key_id = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_history", x => new { x.clinic_id, x.case_id, x.sequence });
                });

            migrationBuilder.CreateTable(
                name: "kept_answers",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    person_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    key = table.Column<string>(type: "TEXT", maxLength: 200, nullable: false),
                    request_hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    status = table.Column<int>(type: "INTEGER", nullable: false),
                    location = table.Column<string>(type: "TEXT", maxLength: 300, nullable: true),
                    version = table.Column<int>(type: "INTEGER", nullable: false),
                    body = table.Column<string>(type: "TEXT", nullable: false),
                    at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kept_answers", x => new { x.clinic_id, x.person_id, x.key });
                });

            migrationBuilder.CreateTable(
                name: "AspNetRoleClaims",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    role_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    claim_type = table.Column<string>(type: "TEXT", nullable: true),
                    claim_value = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_role_claims", x => x.id);
                    table.ForeignKey(
                        name: "fk_asp_net_role_claims_asp_net_roles_role_id",
                        column: x => x.role_id,
                        principalTable: "AspNetRoles",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "case_heads",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    version = table.Column<int>(type: "INTEGER", nullable: false),
                    site_code = table.Column<string>(type: "TEXT", maxLength: 5, nullable: false),
                    site_detail = table.Column<string>(type: "TEXT", maxLength: 200, nullable: true),
                    stage_count = table.Column<int>(type: "INTEGER", nullable: false),
                    state = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    outcome = table.Column<string>(type: "TEXT", maxLength: 32, nullable: true),
                    ended_utc = table.Column<long>(type: "INTEGER", nullable: true),
                    recall = table.Column<bool>(type: "INTEGER", nullable: false),
                    seal = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_case_heads", x => new { x.clinic_id, x.case_id });
                    table.ForeignKey(
                        name: "fk_case_heads_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "endings",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    outcome = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    reason = table.Column<string>(type: "TEXT", nullable: true),
                    plan = table.Column<string>(type: "TEXT", nullable: true),
                    continues_on = table.Column<DateOnly>(type: "TEXT", nullable: true),
                    repair = table.Column<string>(type: "TEXT", maxLength: 32, nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    ended_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    ended_at = table.Column<long>(type: "INTEGER", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    recorded_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_endings", x => new { x.clinic_id, x.case_id });
                    table.ForeignKey(
                        name: "fk_endings_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "measured_defects",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    length_um = table.Column<int>(type: "INTEGER", nullable: false),
                    width_um = table.Column<int>(type: "INTEGER", nullable: false),
                    plane = table.Column<string>(type: "TEXT", maxLength: 32, nullable: true),
                    reason = table.Column<string>(type: "TEXT", nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    recorded_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_measured_defects", x => new { x.clinic_id, x.case_id, x.ordinal });
                    table.ForeignKey(
                        name: "fk_measured_defects_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stages",
                columns: table => new
                {
                    number = table.Column<int>(type: "INTEGER", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    pieces = table.Column<string>(type: "TEXT", nullable: false),
                    alerts = table.Column<string>(type: "TEXT", nullable: false),
                    reason_for_unread = table.Column<string>(type: "TEXT", nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    recorded_at = table.Column<long>(type: "INTEGER", nullable: false),
                    taken_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    taken_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stages", x => new { x.clinic_id, x.case_id, x.number });
                    table.ForeignKey(
                        name: "fk_stages_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUsers",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    display_name = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
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
                    lockout_end = table.Column<DateTimeOffset>(type: "TEXT", nullable: true),
                    lockout_enabled = table.Column<bool>(type: "INTEGER", nullable: false),
                    access_failed_count = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_users", x => x.id);
                    table.ForeignKey(
                        name: "fk_asp_net_users_clinics_clinic_id",
                        column: x => x.clinic_id,
                        principalTable: "clinics",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "blocks",
                columns: table => new
                {
                    label = table.Column<string>(type: "TEXT", maxLength: 4, nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    stage_number = table.Column<int>(type: "INTEGER", nullable: false),
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    arc = table.Column<string>(type: "TEXT", maxLength: 11, nullable: true),
                    centre = table.Column<bool>(type: "INTEGER", nullable: false),
                    from_ink = table.Column<string>(type: "TEXT", maxLength: 30, nullable: true),
                    to_ink = table.Column<string>(type: "TEXT", maxLength: 30, nullable: true),
                    piece_number = table.Column<int>(type: "INTEGER", nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    recorded_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_blocks", x => new { x.clinic_id, x.case_id, x.stage_number, x.label });
                    table.ForeignKey(
                        name: "fk_blocks_stages_clinic_id_case_id_stage_number",
                        columns: x => new { x.clinic_id, x.case_id, x.stage_number },
                        principalTable: "stages",
                        principalColumns: new[] { "clinic_id", "case_id", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stage_times",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    stage_number = table.Column<int>(type: "INTEGER", nullable: false),
                    moment = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    recorded_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    recorded_at = table.Column<long>(type: "INTEGER", nullable: false),
                    time_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    time = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stage_times", x => new { x.clinic_id, x.case_id, x.stage_number, x.ordinal });
                    table.ForeignKey(
                        name: "fk_stage_times_stages_clinic_id_case_id_stage_number",
                        columns: x => new { x.clinic_id, x.case_id, x.stage_number },
                        principalTable: "stages",
                        principalColumns: new[] { "clinic_id", "case_id", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserClaims",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    user_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    claim_type = table.Column<string>(type: "TEXT", nullable: true),
                    claim_value = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_user_claims", x => x.id);
                    table.ForeignKey(
                        name: "fk_asp_net_user_claims_asp_net_users_user_id",
                        column: x => x.user_id,
                        principalTable: "AspNetUsers",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserLogins",
                columns: table => new
                {
                    login_provider = table.Column<string>(type: "TEXT", nullable: false),
                    provider_key = table.Column<string>(type: "TEXT", nullable: false),
                    provider_display_name = table.Column<string>(type: "TEXT", nullable: true),
                    user_id = table.Column<Guid>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_user_logins", x => new { x.login_provider, x.provider_key });
                    table.ForeignKey(
                        name: "fk_asp_net_user_logins_asp_net_users_user_id",
                        column: x => x.user_id,
                        principalTable: "AspNetUsers",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserRoles",
                columns: table => new
                {
                    user_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    role_id = table.Column<Guid>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_user_roles", x => new { x.user_id, x.role_id });
                    table.ForeignKey(
                        name: "fk_asp_net_user_roles_asp_net_roles_role_id",
                        column: x => x.role_id,
                        principalTable: "AspNetRoles",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_asp_net_user_roles_asp_net_users_user_id",
                        column: x => x.user_id,
                        principalTable: "AspNetUsers",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserTokens",
                columns: table => new
                {
                    user_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    login_provider = table.Column<string>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    value = table.Column<string>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_user_tokens", x => new { x.user_id, x.login_provider, x.name });
                    table.ForeignKey(
                        name: "fk_asp_net_user_tokens_asp_net_users_user_id",
                        column: x => x.user_id,
                        principalTable: "AspNetUsers",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "readings",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    outcome = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    reader_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    recorded_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    findings = table.Column<string>(type: "TEXT", nullable: false),
                    amends_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    reason = table.Column<string>(type: "TEXT", nullable: true),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    block_label = table.Column<string>(type: "TEXT", maxLength: 4, nullable: false),
                    stage_number = table.Column<int>(type: "INTEGER", nullable: false),
                    read_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    read_at = table.Column<long>(type: "INTEGER", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    recorded_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_readings", x => new { x.clinic_id, x.case_id, x.id });
                    table.ForeignKey(
                        name: "fk_readings_blocks_clinic_id_case_id_stage_number_block_label",
                        columns: x => new { x.clinic_id, x.case_id, x.stage_number, x.block_label },
                        principalTable: "blocks",
                        principalColumns: new[] { "clinic_id", "case_id", "stage_number", "label" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "countersignatures",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    reading_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_countersignatures", x => new { x.clinic_id, x.case_id, x.reading_id });
                    table.ForeignKey(
                        name: "fk_countersignatures_readings_clinic_id_case_id_reading_id",
                        columns: x => new { x.clinic_id, x.case_id, x.reading_id },
                        principalTable: "readings",
                        principalColumns: new[] { "clinic_id", "case_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_asp_net_role_claims_role_id",
                table: "AspNetRoleClaims",
                column: "role_id");

            migrationBuilder.CreateIndex(
                name: "RoleNameIndex",
                table: "AspNetRoles",
                column: "normalized_name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_asp_net_user_claims_user_id",
                table: "AspNetUserClaims",
                column: "user_id");

            migrationBuilder.CreateIndex(
                name: "ix_asp_net_user_logins_user_id",
                table: "AspNetUserLogins",
                column: "user_id");

            migrationBuilder.CreateIndex(
                name: "ix_asp_net_user_roles_role_id",
                table: "AspNetUserRoles",
                column: "role_id");

            migrationBuilder.CreateIndex(
                name: "EmailIndex",
                table: "AspNetUsers",
                column: "normalized_email");

            migrationBuilder.CreateIndex(
                name: "ix_asp_net_users_clinic_id",
                table: "AspNetUsers",
                column: "clinic_id");

            migrationBuilder.CreateIndex(
                name: "UserNameIndex",
                table: "AspNetUsers",
                column: "normalized_user_name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_case_heads_clinic_id_ended_utc",
                table: "case_heads",
                columns: new[] { "clinic_id", "ended_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_cases_clinic_id_case_number",
                table: "cases",
                columns: new[] { "clinic_id", "case_number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_cases_clinic_id_patient_ref",
                table: "cases",
                columns: new[] { "clinic_id", "patient_ref" });

            migrationBuilder.CreateIndex(
                name: "ix_readings_clinic_id_case_id_stage_number_block_label_ordinal",
                table: "readings",
                columns: new[] { "clinic_id", "case_id", "stage_number", "block_label", "ordinal" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "AspNetRoleClaims");

            migrationBuilder.DropTable(
                name: "AspNetUserClaims");

            migrationBuilder.DropTable(
                name: "AspNetUserLogins");

            migrationBuilder.DropTable(
                name: "AspNetUserRoles");

            migrationBuilder.DropTable(
                name: "AspNetUserTokens");

            migrationBuilder.DropTable(
                name: "case_heads");

            migrationBuilder.DropTable(
                name: "case_number_counters");

            migrationBuilder.DropTable(
                name: "countersignatures");

            migrationBuilder.DropTable(
                name: "data_protection_keys");

            migrationBuilder.DropTable(
                name: "endings");

            migrationBuilder.DropTable(
                name: "history");

            migrationBuilder.DropTable(
                name: "kept_answers");

            migrationBuilder.DropTable(
                name: "measured_defects");

            migrationBuilder.DropTable(
                name: "stage_times");

            migrationBuilder.DropTable(
                name: "AspNetRoles");

            migrationBuilder.DropTable(
                name: "AspNetUsers");

            migrationBuilder.DropTable(
                name: "readings");

            migrationBuilder.DropTable(
                name: "clinics");

            migrationBuilder.DropTable(
                name: "blocks");

            migrationBuilder.DropTable(
                name: "stages");

            migrationBuilder.DropTable(
                name: "cases");
        }
    }
}
