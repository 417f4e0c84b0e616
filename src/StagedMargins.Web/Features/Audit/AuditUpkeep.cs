using Microsoft.EntityFrameworkCore;
using StagedMargins.Storage;
using StagedMargins.Storage.Audit;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Features.Audit;

/// <summary>Keeps the audit's summaries, which are derived data, those that the record gives.</summary>
public static class AuditUpkeep
{
    /// <summary>Adds what the audit needs.</summary>
    public static void AddAudit(this IServiceCollection services, IConfiguration settings)
    {
        services.AddSingleton(PublishedValues.Read(settings));
        services.AddScoped<AuditService>();
        services.AddScoped<AuditCaseList>();
        services.AddScoped<MonthClosings>();
    }

    /// <summary>Makes summaries of every clinic again where they are missing, or wrong as well.</summary>
    /// <returns>How many.</returns>
    public static async Task<int> RebuildAsync(IServiceProvider services, bool onlyMissing)
    {
        var made = 0;
        await foreach (var db in ClinicsAsync(services))
        {
            made += await db.RebuildSummariesAsync(onlyMissing, CancellationToken.None);
        }

        return made;
    }

    /// <summary>Says which cases have another summary than their record gives.</summary>
    /// <returns>True where none has.</returns>
    public static async Task<bool> SayDifferentAsync(IServiceProvider services, TextWriter output)
    {
        var all = true;
        await foreach (var db in ClinicsAsync(services))
        {
            var ids = await db.Cases.Select(c => c.CaseId).ToListAsync();
            foreach (var id in ids)
            {
                db.ChangeTracker.Clear();
                var surgicalCase = (await db.FindCaseAsync(id, CancellationToken.None))!;
                if (!await db.SummaryFollowsAsync(surgicalCase, CancellationToken.None))
                {
                    all = false;
                    await output.WriteLineAsync($"AUDIT       case {surgicalCase.CaseNumber}: its summary does not match its record; run rebuild.");
                }
            }
        }

        return all;
    }

    private static async IAsyncEnumerable<ClinicContext> ClinicsAsync(IServiceProvider services)
    {
        await using var scope = services.CreateAsyncScope();
        var ids = await scope.ServiceProvider.GetRequiredService<ClinicContext>().Clinics.Select(clinic => clinic.Id).ToListAsync();
        var options = scope.ServiceProvider.GetRequiredService<DbContextOptions<ClinicContext>>();
        foreach (var id in ids)
        {
            await using var db = new ClinicContext(options) { Scope = new ClinicScope { ClinicId = id, FindKeys = services.GetRequiredService<SubjectKeys> } };
            yield return db.AllowLongReads();
        }
    }
}
