using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class AuditSummary : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "audit_cases",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_number = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    ended_utc = table.Column<long>(type: "INTEGER", nullable: false),
                    surgeon_id = table.Column<Guid>(type: "TEXT", nullable: true),
                    area_class = table.Column<string>(type: "TEXT", maxLength: 1, nullable: true),
                    tumour = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    size_band = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    outcome = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    stages = table.Column<int>(type: "INTEGER", nullable: false),
                    blocks = table.Column<int>(type: "INTEGER", nullable: false),
                    cleared_stage = table.Column<int>(type: "INTEGER", nullable: true),
                    readings = table.Column<int>(type: "INTEGER", nullable: false),
                    unreadable = table.Column<int>(type: "INTEGER", nullable: false),
                    amendments = table.Column<int>(type: "INTEGER", nullable: false),
                    recuts = table.Column<int>(type: "INTEGER", nullable: false),
                    recall = table.Column<int>(type: "INTEGER", nullable: false),
                    defect_um2 = table.Column<long>(type: "INTEGER", nullable: true),
                    lesion_um2 = table.Column<long>(type: "INTEGER", nullable: true),
                    spared_um2 = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_cases", x => new { x.clinic_id, x.case_id });
                    table.ForeignKey(
                        name: "fk_audit_cases_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "month_closings",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    month = table.Column<string>(type: "TEXT", maxLength: 7, nullable: false),
                    closed_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    figures = table.Column<string>(type: "TEXT", nullable: false),
                    closed_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    closed_at = table.Column<long>(type: "INTEGER", nullable: false)
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
                name: "audit_stages",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    stage_number = table.Column<int>(type: "INTEGER", nullable: false),
                    turnaround_minutes = table.Column<int>(type: "INTEGER", nullable: true)
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

            migrationBuilder.CreateIndex(
                name: "ix_audit_cases_clinic_id_ended_utc",
                table: "audit_cases",
                columns: new[] { "clinic_id", "ended_utc" });

            migrationBuilder.Sql("CREATE TRIGGER month_closings_no_update BEFORE UPDATE ON month_closings BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never changed.'); END;");
            migrationBuilder.Sql("CREATE TRIGGER month_closings_no_delete BEFORE DELETE ON month_closings BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never deleted.'); END;");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "audit_stages");

            migrationBuilder.DropTable(
                name: "month_closings");

            migrationBuilder.DropTable(
                name: "audit_cases");
        }
    }
}
