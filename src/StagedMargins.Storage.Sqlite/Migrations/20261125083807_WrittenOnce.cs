using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class WrittenOnce : Migration
    {
        private static readonly string[] Tables = ["cases", "stages", "stage_times", "blocks", "readings", "countersignatures", "endings", "measured_defects", "history"];

        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            foreach (var table in Tables)
            {
                migrationBuilder.Sql($"CREATE TRIGGER {table}_no_update BEFORE UPDATE ON {table} BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never changed.'); END;");
                migrationBuilder.Sql($"CREATE TRIGGER {table}_no_delete BEFORE DELETE ON {table} BEGIN SELECT RAISE(ABORT, 'Rows of this table are written once and never deleted.'); END;");
            }
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            foreach (var table in Tables)
            {
                migrationBuilder.Sql($"DROP TRIGGER {table}_no_update;");
                migrationBuilder.Sql($"DROP TRIGGER {table}_no_delete;");
            }
        }
    }
}
