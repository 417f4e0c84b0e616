using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StagedMargins.Core.Entries.Clinics;
using StagedMargins.Storage.Ledger;
using StagedMargins.Storage.People;

namespace StagedMargins.Storage.Clinics;

/// <summary>Compares a clinic's settings, tokens and closed months to its entries.</summary>
/// <param name="prints">Makes the fingerprints of credentials.</param>
public sealed class ClinicCheck(CredentialPrints prints)
{
    /// <summary>What is not as the entries of the clinic in scope say.</summary>
    /// <param name="db">The record.</param>
    /// <param name="clinicId">The clinic.</param>
    /// <param name="cancel">Ends the check.</param>
    public async Task<IReadOnlyList<LedgerFault>> FaultsAsync(ClinicContext db, Guid clinicId, CancellationToken cancel)
    {
        var entries = await db.EntriesOfClinicAsync(cancel);
        ClinicState state;
        try
        {
            state = ClinicEntries.StateOf(entries);
        }
        catch (JsonException)
        {
            return [new LedgerFault(entries.Count, "clinics", "An entry of the clinic can't be read.")];
        }

        var clinic = await db.Clinics.AsNoTracking().SingleOrDefaultAsync(one => one.Id == clinicId, cancel);
        var tokens = await db.ApiTokens.AsNoTracking().ToListAsync(cancel);
        var closings = await db.MonthClosings.AsNoTracking().ToListAsync(cancel);
        List<(string Row, string Why)> faults =
        [
            .. clinic is null || state.Settings != ClinicEntries.SettingsOf(clinic) ? [("clinics", "The settings are others than the entries say.")] : Array.Empty<(string, string)>(),
            .. tokens.Where(token => !IsAsMade(token, state.Tokens.GetValueOrDefault(token.Id))).Select(token => ($"token {token.Id}", "It is not as its entries say.")),
            .. state.Tokens.Keys.Except(tokens.Select(token => token.Id)).Select(id => ($"token {id}", "It is gone.")),
            .. closings.Where(closing => state.ClosedMonths.GetValueOrDefault(closing.Month) != ClinicEntries.ClosedOf(closing))
                .Select(closing => ($"month {closing.Month}", "Its figures are not those of its entry.")),
            .. state.ClosedMonths.Keys.Except(closings.Select(closing => closing.Month)).Select(month => ($"month {month}", "Its figures are gone.")),
        ];
        return [.. faults.Select(fault => new LedgerFault(entries.Count, fault.Row, fault.Why))];
    }

    private bool IsAsMade(ApiToken token, TokenState? state) => state is { Made: var made }
        && made.Name == token.Name && string.Join(' ', made.Roles) == token.RoleWords && made.ExpiresAt?.Utc == token.ExpiresUtc
        && state.IsRevoked == token.RevokedUtc is not null
        && prints.Matches(made.Credential, AccountSecrets.In(token).Single());
}
