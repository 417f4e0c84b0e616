using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
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
                type: "TEXT",
                maxLength: 32,
                nullable: false,
                defaultValue: "belongsAbove");

            migrationBuilder.CreateTable(
                name: "facts_corrections",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    facts = table.Column<string>(type: "TEXT", nullable: false),
                    reason = table.Column<string>(type: "TEXT", nullable: false),
                    recorded_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    recorded_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    recorded_at = table.Column<long>(type: "INTEGER", nullable: false)
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
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    assessment = table.Column<string>(type: "TEXT", nullable: false),
                    assessed_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    assessed_at = table.Column<long>(type: "INTEGER", nullable: false)
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
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    site = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    confirmed_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    confirmed_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    confirmed_at = table.Column<long>(type: "INTEGER", nullable: false)
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
                migrationBuilder.Sql($"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never changed.'); END;");
                migrationBuilder.Sql($"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never deleted.'); END;");
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
