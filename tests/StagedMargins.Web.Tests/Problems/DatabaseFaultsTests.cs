using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;
using StagedMargins.Web.Problems;

namespace StagedMargins.Web.Tests.Problems;

/// <summary>
/// Every fault of the two databases that can befall a request. The codes are those of PostgreSQL's manual, appendix A "PostgreSQL
/// Error Codes", and of sqlite.org/rescode.html.
/// </summary>
public sealed class DatabaseFaultsTests
{
    [Theory]
    [InlineData("57P01", nameof(Kind.Passing))] // admin_shutdown
    [InlineData("57P02", nameof(Kind.Passing))] // crash_shutdown
    [InlineData("57P03", nameof(Kind.Passing))] // cannot_connect_now
    [InlineData("53300", nameof(Kind.Passing))] // too_many_connections
    [InlineData("08006", nameof(Kind.Passing))] // connection_failure
    [InlineData("53100", nameof(Kind.Full))] // disk_full
    [InlineData("25006", nameof(Kind.ReadOnly))] // read_only_sql_transaction
    [InlineData("23505", nameof(Kind.Conflict))] // unique_violation
    [InlineData("40001", nameof(Kind.Conflict))] // serialization_failure
    [InlineData("40P01", nameof(Kind.Conflict))] // deadlock_detected
    [InlineData("42703", nameof(Kind.Program))] // undefined_column
    public void Each_code_of_PostgreSQL_has_its_kind(string code, string kind) =>
        KindOf(new PostgresException("", "ERROR", "ERROR", code)).ToString().ShouldBe(kind);

    [Theory]
    [InlineData(5, nameof(Kind.Passing))] // SQLITE_BUSY
    [InlineData(6, nameof(Kind.Passing))] // SQLITE_LOCKED
    [InlineData(10, nameof(Kind.Passing))] // SQLITE_IOERR
    [InlineData(14, nameof(Kind.Passing))] // SQLITE_CANTOPEN
    [InlineData(8, nameof(Kind.ReadOnly))] // SQLITE_READONLY
    [InlineData(13, nameof(Kind.Full))] // SQLITE_FULL
    [InlineData(19, nameof(Kind.Conflict))] // SQLITE_CONSTRAINT
    [InlineData(1, nameof(Kind.Program))] // SQLITE_ERROR
    [InlineData(11, nameof(Kind.Program))] // SQLITE_CORRUPT
    public void Each_code_of_SQLite_has_its_kind(int code, string kind) => KindOf(new SqliteException("", code)).ToString().ShouldBe(kind);

    [Fact]
    public void No_room_for_the_index_of_the_log_is_a_full_disk() => KindOf(new SqliteException("", 10, 4874)).ShouldBe(Kind.Full);

    [Fact]
    public void A_broken_connection_passes() => KindOf(new NpgsqlException("", new IOException())).ShouldBe(Kind.Passing);

    private static Kind KindOf(Exception fault)
    {
        var wrapped = new DbUpdateException("", fault);
        return DatabaseFaults.IsFull(wrapped) ? Kind.Full
            : DatabaseFaults.IsReadOnly(wrapped) ? Kind.ReadOnly
            : DatabaseFaults.IsConflict(wrapped) ? Kind.Conflict
            : DatabaseFaults.IsPassing(wrapped) ? Kind.Passing
            : Kind.Program;
    }

    private enum Kind
    {
        Program,
        Passing,
        Full,
        ReadOnly,
        Conflict,
    }
}
