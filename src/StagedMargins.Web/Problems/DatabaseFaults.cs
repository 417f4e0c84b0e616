using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Npgsql;

namespace StagedMargins.Web.Problems;

/// <summary>Tells the faults of the databases apart.</summary>
public static class DatabaseFaults
{
    private const int SqliteBusy = 5;
    private const int SqliteLocked = 6;
    private const int SqliteReadOnly = 8;
    private const int SqliteInputOutput = 10;
    private const int SqliteFull = 13;

    // No room for the index of the log: SQLITE_IOERR_SHMSIZE, an extended code.
    private const int SqliteNoRoomForIndex = 4874;
    private const int SqliteCantOpen = 14;
    private const int SqliteConstraint = 19;

    /// <summary>True where two writers met: a unique key was taken meanwhile, or a row changed.</summary>
    public static bool IsConflict(Exception exception) => exception switch
    {
        DbUpdateConcurrencyException => true,
        PostgresException { SqlState: PostgresErrorCodes.UniqueViolation or PostgresErrorCodes.SerializationFailure or PostgresErrorCodes.DeadlockDetected } => true,
        SqliteException { SqliteErrorCode: SqliteConstraint } => true,
        { InnerException: { } inner } => IsConflict(inner),
        _ => false,
    };

    /// <summary>True where the database is away or busy and will be back.</summary>
    public static bool IsPassing(Exception exception) => exception switch
    {
        NpgsqlException { IsTransient: true } => true,

        // The connection was lost between two statements: the next one finds its transaction over.
        InvalidOperationException { Source: "Npgsql" } => true,
        SqliteException { SqliteErrorCode: SqliteBusy or SqliteLocked or SqliteInputOutput or SqliteCantOpen } => true,
        { InnerException: { } inner } => IsPassing(inner),
        _ => false,
    };

    /// <summary>True where there is no room left to write.</summary>
    public static bool IsFull(Exception exception) => exception switch
    {
        PostgresException { SqlState: PostgresErrorCodes.DiskFull } => true,
        SqliteException { SqliteErrorCode: SqliteFull } or SqliteException { SqliteExtendedErrorCode: SqliteNoRoomForIndex } => true,
        { InnerException: { } inner } => IsFull(inner),
        _ => false,
    };

    /// <summary>True where the record can be read and not written.</summary>
    public static bool IsReadOnly(Exception exception) => exception switch
    {
        PostgresException { SqlState: PostgresErrorCodes.ReadOnlySqlTransaction } => true,
        SqliteException { SqliteErrorCode: SqliteReadOnly } => true,
        { InnerException: { } inner } => IsReadOnly(inner),
        _ => false,
    };
}
