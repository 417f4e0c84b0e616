using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class SitePhoto : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "site_photos",
                columns: table => new
                {
                    ordinal = table.Column<int>(type: "INTEGER", nullable: false),
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    site = table.Column<string>(type: "TEXT", nullable: false),
                    content_type = table.Column<string>(type: "TEXT", maxLength: 32, nullable: false),
                    width_px = table.Column<int>(type: "INTEGER", nullable: false),
                    height_px = table.Column<int>(type: "INTEGER", nullable: false),
                    sha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    added_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    bytes = table.Column<byte[]>(type: "BLOB", nullable: false),
                    added_at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    added_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_site_photos", x => new { x.clinic_id, x.case_id, x.ordinal });
                    table.ForeignKey(
                        name: "fk_site_photos_cases_clinic_id_case_id",
                        columns: x => new { x.clinic_id, x.case_id },
                        principalTable: "cases",
                        principalColumns: new[] { "clinic_id", "id" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.Sql("CREATE TRIGGER site_photos_no_update BEFORE UPDATE ON site_photos BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never changed.'); END;");
            migrationBuilder.Sql("CREATE TRIGGER site_photos_no_delete BEFORE DELETE ON site_photos BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never deleted.'); END;");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "site_photos");
        }
    }
}
