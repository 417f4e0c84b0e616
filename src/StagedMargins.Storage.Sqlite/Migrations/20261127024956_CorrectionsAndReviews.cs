using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class CorrectionsAndReviews : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            // Computed by other rules from here on; the next start makes them again.
            migrationBuilder.Sql("DELETE FROM audit_stages;");
            migrationBuilder.Sql("DELETE FROM audit_cases;");

            migrationBuilder.AddColumn<bool>(
                name: "mirrored_blocks",
                table: "clinics",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<DateOnly>(
                name: "continues_on",
                table: "cases",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "open_reviews",
                table: "cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "unsigned_readings",
                table: "cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "corrections",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "not_seen",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "reopenings",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "reviews_answered",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "reviews_open",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<int>(
                name: "withdrawn",
                table: "audit_cases",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "mirrored_blocks",
                table: "clinics");

            migrationBuilder.DropColumn(
                name: "continues_on",
                table: "cases");

            migrationBuilder.DropColumn(
                name: "open_reviews",
                table: "cases");

            migrationBuilder.DropColumn(
                name: "unsigned_readings",
                table: "cases");

            migrationBuilder.DropColumn(
                name: "corrections",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "not_seen",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "reopenings",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "reviews_answered",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "reviews_open",
                table: "audit_cases");

            migrationBuilder.DropColumn(
                name: "withdrawn",
                table: "audit_cases");
        }
    }
}
