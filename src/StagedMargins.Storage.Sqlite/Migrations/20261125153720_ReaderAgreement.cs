using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class ReaderAgreement : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "pairs_both_clear",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "pairs_both_tumour",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "pairs_clear_then_tumour",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "pairs_not_comparable",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "pairs_tumour_then_clear",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            // Derived data, which is made again from the record at the next start: with the second reads, and with the area class of the site.
            migrationBuilder.Sql("DELETE FROM audit_stages;");
            migrationBuilder.Sql("DELETE FROM audit_cases;");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "pairs_both_clear",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "pairs_both_tumour",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "pairs_clear_then_tumour",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "pairs_not_comparable",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "pairs_tumour_then_clear",
                table: "audit_cases");
        }
    }
}
