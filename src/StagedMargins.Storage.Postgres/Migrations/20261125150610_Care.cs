using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class Care : Migration
    {
        private static readonly string[] WrittenOnce = ["anaesthetic_doses", "anaesthetic_voids", "repairs", "visits", "permanent_sections", "permanent_results", "second_reads", "second_read_answers"];

        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "anaesthetic_doses",
                columns: table => new
                {
                    number = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    agent = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    percent_thousandths = table.Column<int>(type: "integer", nullable: false),
                    microlitres = table.Column<int>(type: "integer", nullable: false),
                    adrenaline = table.Column<bool>(type: "boolean", nullable: false),
                    recorded_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    given_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    given_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    recorded_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_anaesthetic_doses", x => new { x.clinic_id, x.case_id, x.number });
                    table.ForeignKey(
                        name: "fk_anaesthetic_doses_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "permanent_sections",
                columns: table => new
                {
                    stage_number = table.Column<int>(type: "integer", nullable: false),
                    block_label = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    recorded_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    sent_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    sent_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_permanent_sections", x => new { x.clinic_id, x.case_id, x.stage_number, x.block_label });
                    table.ForeignKey(
                        name: "fk_permanent_sections_blocks_clinic_id_case_id_stage_number_bl",
                        columns: x => new { x.clinic_id, x.case_id, x.stage_number, x.block_label },
                        principalTable: "blocks",
                        principalColumns: new[] { "clinic_id", "case_id", "stage_number", "label" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_permanent_sections_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "repairs",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    kind = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    repaired_on = table.Column<DateOnly>(type: "date", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    reason = table.Column<string>(type: "text", nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    recorded_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_repairs", x => new { x.clinic_id, x.case_id, x.ordinal });
                    table.ForeignKey(
                        name: "fk_repairs_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "second_reads",
                columns: table => new
                {
                    number = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    stage_number = table.Column<int>(type: "integer", nullable: false),
                    block_label = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    reader_id = table.Column<Guid>(type: "uuid", nullable: false),
                    asked_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    asked_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    asked_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_second_reads", x => new { x.clinic_id, x.case_id, x.number });
                    table.ForeignKey(
                        name: "fk_second_reads_blocks_clinic_id_case_id_stage_number_block_la",
                        columns: x => new { x.clinic_id, x.case_id, x.stage_number, x.block_label },
                        principalTable: "blocks",
                        principalColumns: new[] { "clinic_id", "case_id", "stage_number", "label" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_second_reads_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "visits",
                columns: table => new
                {
                    number = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    visited_on = table.Column<DateOnly>(type: "date", nullable: false),
                    recurrence = table.Column<bool>(type: "boolean", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    corrects = table.Column<int>(type: "integer", nullable: true),
                    reason = table.Column<string>(type: "text", nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    recorded_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_visits", x => new { x.clinic_id, x.case_id, x.number });
                    table.ForeignKey(
                        name: "fk_visits_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "anaesthetic_voids",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    dose_number = table.Column<int>(type: "integer", nullable: false),
                    reason = table.Column<string>(type: "text", nullable: false),
                    by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    at_offset = table.Column<short>(type: "smallint", nullable: false),
                    at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_anaesthetic_voids", x => new { x.clinic_id, x.case_id, x.dose_number });
                    table.ForeignKey(
                        name: "fk_anaesthetic_voids_anaesthetic_doses_clinic_id_case_id_dose_",
                        columns: x => new { x.clinic_id, x.case_id, x.dose_number },
                        principalTable: "anaesthetic_doses",
                        principalColumns: new[] { "clinic_id", "case_id", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "permanent_results",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    stage_number = table.Column<int>(type: "integer", nullable: false),
                    block_label = table.Column<string>(type: "character varying(4)", maxLength: 4, nullable: false),
                    outcome = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    reason = table.Column<string>(type: "text", nullable: true),
                    recorded_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    recorded_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    reported_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    reported_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_permanent_results", x => new { x.clinic_id, x.case_id, x.stage_number, x.block_label, x.ordinal });
                    table.ForeignKey(
                        name: "fk_permanent_results_permanent_sections_clinic_id_case_id_stag",
                        columns: x => new { x.clinic_id, x.case_id, x.stage_number, x.block_label },
                        principalTable: "permanent_sections",
                        principalColumns: new[] { "clinic_id", "case_id", "stage_number", "block_label" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "second_read_answers",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    outcome = table.Column<string>(type: "character varying(32)", maxLength: 32, nullable: true),
                    note = table.Column<string>(type: "text", nullable: true),
                    at_offset = table.Column<short>(type: "smallint", nullable: false),
                    at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_second_read_answers", x => new { x.clinic_id, x.case_id, x.number });
                    table.ForeignKey(
                        name: "fk_second_read_answers_second_reads_clinic_id_case_id_number",
                        columns: x => new { x.clinic_id, x.case_id, x.number },
                        principalTable: "second_reads",
                        principalColumns: new[] { "clinic_id", "case_id", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_second_reads_clinic_id_case_id_stage_number_block_label",
                table: "second_reads",
                columns: new[] { "clinic_id", "case_id", "stage_number", "block_label" });

            migrationBuilder.CreateIndex(
                name: "ix_second_reads_clinic_id_reader_id",
                table: "second_reads",
                columns: new[] { "clinic_id", "reader_id" });

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
                name: "anaesthetic_voids");

            migrationBuilder.DropTable(
                name: "permanent_results");

            migrationBuilder.DropTable(
                name: "repairs");

            migrationBuilder.DropTable(
                name: "second_read_answers");

            migrationBuilder.DropTable(
                name: "visits");

            migrationBuilder.DropTable(
                name: "anaesthetic_doses");

            migrationBuilder.DropTable(
                name: "permanent_sections");

            migrationBuilder.DropTable(
                name: "second_reads");
        }
    }
}
