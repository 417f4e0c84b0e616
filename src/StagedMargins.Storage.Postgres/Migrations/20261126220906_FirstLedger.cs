using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace StagedMargins.Storage.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class FirstLedger : Migration
    {
        private static readonly string[] WrittenOnce = ["ledger_entries", "photographs", "access_log", "month_closings"];

        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "access_log",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    entry_number = table.Column<long>(type: "bigint", nullable: false),
                    ordinal = table.Column<int>(type: "integer", nullable: false),
                    by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    what = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    at_offset = table.Column<short>(type: "smallint", nullable: false),
                    at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_access_log", x => new { x.clinic_id, x.case_id, x.id });
                });

            migrationBuilder.CreateTable(
                name: "AspNetRoles",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    normalized_name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    concurrency_stamp = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_asp_net_roles", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "audit_cases",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_number = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    ended_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    surgeon_id = table.Column<Guid>(type: "uuid", nullable: true),
                    area_class = table.Column<string>(type: "character varying(1)", maxLength: 1, nullable: true),
                    tumour = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    size_band = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    outcome = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    stages = table.Column<int>(type: "integer", nullable: false),
                    blocks = table.Column<int>(type: "integer", nullable: false),
                    cleared_stage = table.Column<int>(type: "integer", nullable: true),
                    readings = table.Column<int>(type: "integer", nullable: false),
                    unreadable = table.Column<int>(type: "integer", nullable: false),
                    amendments = table.Column<int>(type: "integer", nullable: false),
                    recuts = table.Column<int>(type: "integer", nullable: false),
                    recall = table.Column<int>(type: "integer", nullable: false),
                    defect_um2 = table.Column<long>(type: "bigint", nullable: true),
                    lesion_um2 = table.Column<long>(type: "bigint", nullable: true),
                    spared_um2 = table.Column<long>(type: "bigint", nullable: true),
                    pairs_both_clear = table.Column<int>(type: "integer", nullable: false),
                    pairs_both_tumour = table.Column<int>(type: "integer", nullable: false),
                    pairs_tumour_then_clear = table.Column<int>(type: "integer", nullable: false),
                    pairs_clear_then_tumour = table.Column<int>(type: "integer", nullable: false),
                    pairs_not_comparable = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_cases", x => new { x.clinic_id, x.case_id });
                });

            migrationBuilder.CreateTable(
                name: "case_number_counters",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    year = table.Column<int>(type: "integer", nullable: false),
                    last = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_case_number_counters", x => new { x.clinic_id, x.year });
                });

            migrationBuilder.CreateTable(
                name: "cases",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    version = table.Column<long>(type: "bigint", nullable: false),
                    made_by = table.Column<int>(type: "integer", nullable: false),
                    case_number = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    patient_ref = table.Column<byte[]>(type: "bytea", nullable: false),
                    surgeon_id = table.Column<Guid>(type: "uuid", nullable: true),
                    site_code = table.Column<string>(type: "character varying(5)", maxLength: 5, nullable: false),
                    site_side = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: true),
                    site_detail = table.Column<byte[]>(type: "bytea", nullable: true),
                    stage_count = table.Column<int>(type: "integer", nullable: false),
                    state = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    outcome = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: true),
                    ended_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    changed_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    recall = table.Column<bool>(type: "boolean", nullable: false),
                    followed_days = table.Column<int>(type: "integer", nullable: true),
                    recurrence = table.Column<bool>(type: "boolean", nullable: false),
                    opened_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    opened_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_cases", x => new { x.clinic_id, x.case_id });
                });

            migrationBuilder.CreateTable(
                name: "clinic_codes",
                columns: table => new
                {
                    hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    made_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_clinic_codes", x => x.hash);
                });

            migrationBuilder.CreateTable(
                name: "clinics",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    time_zone = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    overlap_minutes = table.Column<int>(type: "integer", nullable: false),
                    size_boundary = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false, defaultValue: "belongsAbove"),
                    retention_block_years = table.Column<int>(type: "integer", nullable: false, defaultValue: 2),
                    retention_record_years = table.Column<int>(type: "integer", nullable: false, defaultValue: 10),
                    retention_slide_years = table.Column<int>(type: "integer", nullable: false, defaultValue: 10)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_clinics", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "data_keys",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    subject_kind = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    subject_id = table.Column<Guid>(type: "uuid", nullable: false),
                    wrapped_by = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    wrapped = table.Column<byte[]>(type: "bytea", nullable: false),
                    found_by = table.Column<byte[]>(type: "bytea", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_data_keys", x => new { x.clinic_id, x.subject_kind, x.subject_id });
                });

            migrationBuilder.CreateTable(
                name: "data_protection_keys",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    friendly_name = table.Column<string>(type: "text", nullable: true),
                    xml = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_data_protection_keys", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "kept_answers",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    person_id = table.Column<Guid>(type: "uuid", nullable: false),
                    key = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    request_print = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    first = table.Column<int>(type: "integer", nullable: false),
                    last = table.Column<int>(type: "integer", nullable: false),
                    status = table.Column<int>(type: "integer", nullable: false),
                    at_offset = table.Column<short>(type: "smallint", nullable: false),
                    at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kept_answers", x => new { x.clinic_id, x.person_id, x.key });
                });

            migrationBuilder.CreateTable(
                name: "ledger_entries",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    stream = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    epoch = table.Column<int>(type: "integer", nullable: false),
                    number = table.Column<long>(type: "bigint", nullable: false),
                    subject_kind = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    subject_id = table.Column<Guid>(type: "uuid", nullable: true),
                    subject_number = table.Column<long>(type: "bigint", nullable: true),
                    kind = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    form = table.Column<int>(type: "integer", nullable: false),
                    request_id = table.Column<Guid>(type: "uuid", nullable: false),
                    by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    by_name = table.Column<string>(type: "text", nullable: false),
                    origin = table.Column<string>(type: "text", nullable: true),
                    body = table.Column<string>(type: "text", nullable: false),
                    previous_hash = table.Column<byte[]>(type: "bytea", nullable: false),
                    key_id = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    hash = table.Column<byte[]>(type: "bytea", nullable: false),
                    at_offset = table.Column<short>(type: "smallint", nullable: false),
                    at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_ledger_entries", x => new { x.clinic_id, x.stream, x.epoch, x.number });
                });

            migrationBuilder.CreateTable(
                name: "ledger_heads",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    stream = table.Column<string>(type: "text", nullable: false),
                    epoch = table.Column<int>(type: "integer", nullable: false),
                    number = table.Column<long>(type: "bigint", nullable: false),
                    hash = table.Column<byte[]>(type: "bytea", nullable: false),
                    min_writer = table.Column<int>(type: "integer", nullable: false),
                    min_reader = table.Column<int>(type: "integer", nullable: false),
                    administered_at = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_ledger_heads", x => new { x.clinic_id, x.stream });
                });

            migrationBuilder.CreateTable(
                name: "ledger_key_checks",
                columns: table => new
                {
                    key_id = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    check = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_ledger_key_checks", x => x.key_id);
                });

            migrationBuilder.CreateTable(
                name: "photographs",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    sha256 = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    bytes = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_photographs", x => new { x.clinic_id, x.case_id, x.sha256 });
                });

            migrationBuilder.CreateTable(
                name: "second_reads",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    reader_id = table.Column<Guid>(type: "uuid", nullable: false),
                    stage_number = table.Column<int>(type: "integer", nullable: false),
                    block_label = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    is_answered = table.Column<bool>(type: "boolean", nullable: false),
                    asked_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    asked_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_second_reads", x => new { x.clinic_id, x.case_id, x.number });
                });

            migrationBuilder.CreateTable(
                name: "AspNetRoleClaims",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    role_id = table.Column<Guid>(type: "uuid", nullable: false),
                    claim_type = table.Column<string>(type: "text", nullable: true),
                    claim_value = table.Column<string>(type: "text", nullable: true)
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
                name: "audit_stages",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    stage_number = table.Column<int>(type: "integer", nullable: false),
                    turnaround_minutes = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_stages", x => new { x.clinic_id, x.case_id, x.stage_number });
                    table.ForeignKey(
                        name: "fk_audit_stages_audit_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "audit_cases",
                        principalColumns: new[] { "clinic_id", "case_id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "api_tokens",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    role_words = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    made_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    made_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    expires_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    revoked_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    last_used_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_api_tokens", x => new { x.clinic_id, x.id });
                    table.ForeignKey(
                        name: "fk_api_tokens_clinics_clinic_id",
                        column: x => x.clinic_id,
                        principalTable: "clinics",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUsers",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    display_name = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    is_disabled = table.Column<bool>(type: "boolean", nullable: false),
                    password_code_hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: true),
                    password_code_until_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    last_time_step = table.Column<long>(type: "bigint", nullable: false),
                    user_name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    normalized_user_name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    email = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    normalized_email = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    email_confirmed = table.Column<bool>(type: "boolean", nullable: false),
                    password_hash = table.Column<string>(type: "text", nullable: true),
                    security_stamp = table.Column<string>(type: "text", nullable: true),
                    concurrency_stamp = table.Column<string>(type: "text", nullable: true),
                    phone_number = table.Column<string>(type: "text", nullable: true),
                    phone_number_confirmed = table.Column<bool>(type: "boolean", nullable: false),
                    two_factor_enabled = table.Column<bool>(type: "boolean", nullable: false),
                    lockout_end = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    lockout_enabled = table.Column<bool>(type: "boolean", nullable: false),
                    access_failed_count = table.Column<int>(type: "integer", nullable: false)
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
                name: "month_closings",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    month = table.Column<string>(type: "character varying(7)", maxLength: 7, nullable: false),
                    closed_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    figures = table.Column<string>(type: "text", nullable: false),
                    closed_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    closed_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    from_offset = table.Column<short>(type: "smallint", nullable: false),
                    from = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    to_offset = table.Column<short>(type: "smallint", nullable: false),
                    to = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_month_closings", x => new { x.clinic_id, x.month });
                    table.ForeignKey(
                        name: "fk_month_closings_clinics_clinic_id",
                        column: x => x.clinic_id,
                        principalTable: "clinics",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "AspNetUserClaims",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    user_id = table.Column<Guid>(type: "uuid", nullable: false),
                    claim_type = table.Column<string>(type: "text", nullable: true),
                    claim_value = table.Column<string>(type: "text", nullable: true)
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
                    login_provider = table.Column<string>(type: "text", nullable: false),
                    provider_key = table.Column<string>(type: "text", nullable: false),
                    provider_display_name = table.Column<string>(type: "text", nullable: true),
                    user_id = table.Column<Guid>(type: "uuid", nullable: false)
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
                    user_id = table.Column<Guid>(type: "uuid", nullable: false),
                    role_id = table.Column<Guid>(type: "uuid", nullable: false)
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
                    user_id = table.Column<Guid>(type: "uuid", nullable: false),
                    login_provider = table.Column<string>(type: "text", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    value = table.Column<string>(type: "text", nullable: true)
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
                name: "passkeys",
                columns: table => new
                {
                    credential_id = table.Column<byte[]>(type: "bytea", maxLength: 1023, nullable: false),
                    user_id = table.Column<Guid>(type: "uuid", nullable: false),
                    data = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_passkeys", x => x.credential_id);
                    table.ForeignKey(
                        name: "fk_passkeys_asp_net_users_user_id",
                        column: x => x.user_id,
                        principalTable: "AspNetUsers",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "ix_access_log_clinic_id_entry_number_ordinal",
                table: "access_log",
                columns: new[] { "clinic_id", "entry_number", "ordinal" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_api_tokens_hash",
                table: "api_tokens",
                column: "hash");

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
                name: "ix_audit_cases_clinic_id_ended_utc",
                table: "audit_cases",
                columns: new[] { "clinic_id", "ended_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_cases_clinic_id_case_number",
                table: "cases",
                columns: new[] { "clinic_id", "case_number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_cases_clinic_id_ended_utc",
                table: "cases",
                columns: new[] { "clinic_id", "ended_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_data_keys_clinic_id_found_by",
                table: "data_keys",
                columns: new[] { "clinic_id", "found_by" });

            migrationBuilder.CreateIndex(
                name: "ix_ledger_entries_clinic_id_subject_kind_subject_id_subject_nu",
                table: "ledger_entries",
                columns: new[] { "clinic_id", "subject_kind", "subject_id", "subject_number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_passkeys_user_id",
                table: "passkeys",
                column: "user_id");

            migrationBuilder.CreateIndex(
                name: "ix_second_reads_clinic_id_reader_id",
                table: "second_reads",
                columns: new[] { "clinic_id", "reader_id" });

            migrationBuilder.Sql("""
                CREATE FUNCTION written_once() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                  RAISE EXCEPTION 'Rows of this table are written once and never changed or deleted.' USING ERRCODE = 'restrict_violation';
                END $$;
                """);
            foreach (var table in WrittenOnce)
            {
                migrationBuilder.Sql($"CREATE TRIGGER {table}_written_once BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION written_once();");
                migrationBuilder.Sql($"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION written_once();");
            }
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "access_log");

            migrationBuilder.DropTable(
                name: "api_tokens");

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
                name: "audit_stages");

            migrationBuilder.DropTable(
                name: "case_number_counters");

            migrationBuilder.DropTable(
                name: "cases");

            migrationBuilder.DropTable(
                name: "clinic_codes");

            migrationBuilder.DropTable(
                name: "data_keys");

            migrationBuilder.DropTable(
                name: "data_protection_keys");

            migrationBuilder.DropTable(
                name: "kept_answers");

            migrationBuilder.DropTable(
                name: "ledger_entries");

            migrationBuilder.DropTable(
                name: "ledger_heads");

            migrationBuilder.DropTable(
                name: "ledger_key_checks");

            migrationBuilder.DropTable(
                name: "month_closings");

            migrationBuilder.DropTable(
                name: "passkeys");

            migrationBuilder.DropTable(
                name: "photographs");

            migrationBuilder.DropTable(
                name: "second_reads");

            migrationBuilder.DropTable(
                name: "AspNetRoles");

            migrationBuilder.DropTable(
                name: "audit_cases");

            migrationBuilder.DropTable(
                name: "AspNetUsers");

            migrationBuilder.DropTable(
                name: "clinics");
        }
    }
}
