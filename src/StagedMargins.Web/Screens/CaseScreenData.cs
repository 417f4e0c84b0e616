using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Mapping;
using StagedMargins.Storage;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Clinics;
using StagedMargins.Web.Contract;
using StagedMargins.Web.AccessLog;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Screens;

/// <summary>What the screens of one case show: the case, and the same view of it that the API sends.</summary>
/// <param name="Case">The case.</param>
/// <param name="View">The case as the API sends it.</param>
/// <param name="Clinic">Its clinic.</param>
/// <param name="People">The people of the clinic.</param>
/// <param name="Person">Who looks.</param>
/// <param name="Today">The clinic's day, which forms offer: whoever looks may sit in another time zone.</param>
public sealed record CaseScreenData(SurgicalCase Case, CaseView View, Clinic Clinic, ClinicPeople People, CurrentPerson Person, DateOnly Today)
{
    /// <summary>Where it came from, in words; none for a case that was opened here.</summary>
    public IReadOnlyList<string> Origin { get; private init; } = [];

    /// <summary>The version of the case that is shown, as <c>If-Match</c> sends it back.</summary>
    public string Version => ETags.Of(Case.Version);

    /// <summary>Reads it; null where there is no such case in the person's clinic, or they are still to read a block of it blind.</summary>
    public static async Task<CaseScreenData?> LoadAsync(Guid id, ClinicContext db, HttpContext http)
    {
        var person = CurrentPerson.From(http.User)!;
        if (await db.FindKnownAsync(id, http.RequestAborted) is not { } known || known.Case is not { } found || found.IsBlindFor(person.Id))
        {
            return null;
        }

        http.RequestServices.GetRequiredService<AccessLogWriter>().Note(person, id, AccessLogFilter.WhatOf(http));
        var clinic = await db.Clinics.SingleAsync(c => c.Id == person.ClinicId, http.RequestAborted);
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, http.RequestAborted);
        var today = clinic.DayOf(http.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow().UtcDateTime);
        return new CaseScreenData(found, CaseView.Of(found, clinic.Overlap, people), clinic, people, person, today)
        {
            Origin = CaseOrigin.Of(known.Entries),
        };
    }
}
