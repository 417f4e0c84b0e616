using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class AccessAndRetention : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "retention_block_years",
                table: "clinics",
                type: "INTEGER",
                nullable: false,
                defaultValue: 2);

            migrationBuilder.AddColumn<int>(
                name: "retention_record_years",
                table: "clinics",
                type: "INTEGER",
                nullable: false,
                defaultValue: 10);

            migrationBuilder.AddColumn<int>(
                name: "retention_slide_years",
                table: "clinics",
                type: "INTEGER",
                nullable: false,
                defaultValue: 10);

            migrationBuilder.AddColumn<bool>(
                name: "is_disabled",
                table: "AspNetUsers",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<long>(
                name: "last_time_step",
                table: "AspNetUsers",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0L);

            migrationBuilder.AddColumn<string>(
                name: "password_code_hash",
                table: "AspNetUsers",
                type: "TEXT",
                maxLength: 64,
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "password_code_until_utc",
                table: "AspNetUsers",
                type: "INTEGER",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "access_log",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    case_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    what = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    at_offset = table.Column<short>(type: "INTEGER", nullable: false),
                    at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_access_log", x => new { x.clinic_id, x.case_id, x.id });
                });

            migrationBuilder.CreateTable(
                name: "api_tokens",
                columns: table => new
                {
                    clinic_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    id = table.Column<Guid>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    role_words = table.Column<string>(type: "TEXT", maxLength: 100, nullable: false),
                    hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    made_utc = table.Column<long>(type: "INTEGER", nullable: false),
                    made_by_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    expires_utc = table.Column<long>(type: "INTEGER", nullable: true),
                    revoked_utc = table.Column<long>(type: "INTEGER", nullable: true),
                    last_used_utc = table.Column<long>(type: "INTEGER", nullable: true)
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
                name: "clinic_codes",
                columns: table => new
                {
                    hash = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    made_utc = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_clinic_codes", x => x.hash);
                });

            migrationBuilder.CreateTable(
                name: "passkeys",
                columns: table => new
                {
                    credential_id = table.Column<byte[]>(type: "BLOB", maxLength: 1023, nullable: false),
                    user_id = table.Column<Guid>(type: "TEXT", nullable: false),
                    data = table.Column<string>(type: "TEXT", nullable: false)
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
                name: "ix_api_tokens_hash",
                table: "api_tokens",
                column: "hash");

            migrationBuilder.CreateIndex(
                name: "ix_passkeys_user_id",
                table: "passkeys",
                column: "user_id");

            migrationBuilder.Sql("CREATE TRIGGER access_log_no_update BEFORE UPDATE ON access_log BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never changed.'); END;");
            migrationBuilder.Sql("CREATE TRIGGER access_log_no_delete BEFORE DELETE ON access_log BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never deleted.'); END;");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "access_log");

            migrationBuilder.DropTable(
                name: "api_tokens");

            migrationBuilder.DropTable(
                name: "clinic_codes");

            migrationBuilder.DropTable(
                name: "passkeys");

            migrationBuilder.DropColumn(
                name: "retention_block_years",
                table: "clinics");

            migrationBuilder.DropColumn(
                name: "retention_record_years",
                table: "clinics");

            migrationBuilder.DropColumn(
                name: "retention_slide_years",
                table: "clinics");

            migrationBuilder.DropColumn(
                name: "is_disabled",
                table: "AspNetUsers");

            migrationBuilder.DropColumn(
                name: "last_time_step",
                table: "AspNetUsers");

            migrationBuilder.DropColumn(
                name: "password_code_hash",
                table: "AspNetUsers");

            migrationBuilder.DropColumn(
                name: "password_code_until_utc",
                table: "AspNetUsers");
        }
    }
}
