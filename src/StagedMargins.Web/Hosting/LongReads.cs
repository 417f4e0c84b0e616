using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;

namespace StagedMargins.Web.Hosting;

/// <summary>Reads that go over the whole record of a clinic.</summary>
internal static class LongReads
{
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(5);

    /// <summary>Lets the statements of a context take long, where others are given up soon so that a database which does not answer counts as away.</summary>
    internal static ClinicContext AllowLongReads(this ClinicContext db)
    {
        db.Database.SetCommandTimeout(Longest);
        return db;
    }
}
