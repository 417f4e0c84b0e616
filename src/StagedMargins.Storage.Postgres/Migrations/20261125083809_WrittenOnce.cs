using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace StagedMargins.Storage.Postgres.Migrations
{
    /// <inheritdoc />
    public partial class WrittenOnce : Migration
    {
        private static readonly string[] Tables = ["cases", "stages", "stage_times", "blocks", "readings", "countersignatures", "endings", "measured_defects", "history"];

        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("""
                CREATE FUNCTION written_once() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                  RAISE EXCEPTION 'Rows of this table are written once and never changed or deleted.' USING ERRCODE = 'restrict_violation';
                END $$;
                """);
            foreach (var table in Tables)
            {
                migrationBuilder.Sql($"CREATE TRIGGER {table}_written_once BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION written_once();");
                migrationBuilder.Sql($"CREATE TRIGGER {table}_no_truncate BEFORE TRUNCATE ON {table} FOR EACH STATEMENT EXECUTE FUNCTION written_once();");
            }
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            foreach (var table in Tables)
            {
                migrationBuilder.Sql($"DROP TRIGGER {table}_written_once ON {table};");
                migrationBuilder.Sql($"DROP TRIGGER {table}_no_truncate ON {table};");
            }

            migrationBuilder.Sql("DROP FUNCTION written_once();");
        }
    }
}
