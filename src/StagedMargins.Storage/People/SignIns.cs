using StagedMargins.Storage.Cases;

namespace StagedMargins.Storage.People;

/// <summary>Whether a sign-in counts now.</summary>
/// <param name="IsBlind">True where the person is still to read a block of the case blind.</param>
public sealed record LiveSignIn(bool IsBlind);

/// <summary>Checks sign-ins against the accounts, once for every request.</summary>
public static class SignIns
{
    /// <summary>A sign-in that counts: its person is at work in the clinic and has the security stamp under which it was given. Null where it does not.</summary>
    /// <param name="db">The record.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="personId">The person.</param>
    /// <param name="stamp">The security stamp.</param>
    /// <param name="caseId">The case that the request names; empty for none.</param>
    /// <param name="seesCase">True where the request is to see the case: it is then looked at in the same round trip, if it is in memory.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<LiveSignIn?> FindSignInAsync(
        this ClinicContext db, Guid clinicId, Guid personId, string? stamp, Guid caseId, bool seesCase, CancellationToken cancel)
    {
        var statements = new Statements(db);
        statements.Add($"""
            SELECT EXISTS (SELECT 1 FROM second_reads WHERE clinic_id = {clinicId} AND case_id = {caseId} AND reader_id = {personId} AND NOT is_answered)
            FROM "AspNetUsers" WHERE id = {personId} AND clinic_id = {clinicId} AND security_stamp = {stamp} AND NOT is_disabled
            """);
        var kept = seesCase ? db.Memory?.Find(clinicId, caseId) : null;
        if (kept is not null)
        {
            statements.AddEntriesFrom(clinicId, caseId, kept.Version);
            statements.AddAdministeredAt(clinicId);
        }

        return await statements.ReadAsync(
            async rows =>
            {
                var live = await rows.ReadAsync(cancel) ? new LiveSignIn(rows.GetBoolean(0)) : null;
                if (kept is not null && live is not null)
                {
                    await rows.NextResultAsync(cancel);
                    db.Scope.Ahead = new CaseLook(kept, await rows.ReadEntriesAsync(db, clinicId, caseId, cancel), await rows.ReadAdministeredAtAsync(cancel));
                }

                return live;
            },
            cancel);
    }
}
