using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class IntakeAndRisk : Migration
    {
        private static readonly string[] Tables = ["facts_corrections", "risk_assessments", "site_confirmations"];

        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "size_boundary",
                table: "clinics",
                type: "character varying(32)",
                maxLength: 32,
                nullable: false,
                defaultValue: "belongsAbove");

            migrationBuilder.CreateTable(
                name: "facts_corrections",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    facts = table.Column<string>(type: "text", nullable: false),
                    reason = table.Column<string>(type: "text", nullable: false),
                    recorded_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    recorded_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_facts_corrections", x => new { x.clinic_id, x.case_id, x.ordinal });
                    table.ForeignKey(
                        name: "fk_facts_corrections_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "risk_assessments",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    assessment = table.Column<string>(type: "text", nullable: false),
                    assessed_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    assessed_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_risk_assessments", x => new { x.clinic_id, x.case_id, x.ordinal });
                    table.ForeignKey(
                        name: "fk_risk_assessments_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "site_confirmations",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "integer", nullable: false),
                    clinic_id = table.Column<Guid>(type: "uuid", nullable: false),
                    case_id = table.Column<Guid>(type: "uuid", nullable: false),
                    site = table.Column<string>(type: "text", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    confirmed_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    confirmed_at_offset = table.Column<short>(type: "smallint", nullable: false),
                    confirmed_at = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_site_confirmations", x => new { x.clinic_id, x.case_id, x.ordinal });
                    table.ForeignKey(
                        name: "fk_site_confirmations_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            foreach (var table in Tables)
            {
                migrationBuilder.Sql($"CREATE TRIGGER {table}_written_once BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION written_once();");
                migrationBuilder.Sql($"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION written_once();");
            }
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "facts_corrections");

            migrationBuilder.DropTable(
                name: "risk_assessments");

            migrationBuilder.DropTable(
                name: "site_confirmations");

            migrationBuilder.DropColumn(
                name: "size_boundary",
                table: "clinics");
        }
    }
}
