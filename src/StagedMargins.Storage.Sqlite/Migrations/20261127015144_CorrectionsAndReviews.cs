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
        }
    }
}
