using StagedMargins.Core.Entries.Accounts;

namespace StagedMargins.Core.Entries.Clinics;

/// <summary>A token for another system was made.</summary>
/// <param name="TokenId">Its id; what the system does is written under it.</param>
/// <param name="Name">What it is for.</param>
/// <param name="Roles">What it may do.</param>
/// <param name="ExpiresAt">Until when it works; null for no end.</param>
/// <param name="Credential">The fingerprint of its secret.</param>
public sealed record TokenMade(Guid TokenId, string Name, IReadOnlyList<string> Roles, ClinicalTime? ExpiresAt, Credential Credential) : ClinicEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<TokenMade>("makeToken");

    /// <inheritdoc/>
    public override ClinicState Apply(ClinicState state) => state with { Tokens = state.Tokens.SetItem(TokenId, new TokenState(this, IsRevoked: false)) };
}

/// <summary>A token was revoked.</summary>
/// <param name="TokenId">Its id.</param>
public sealed record TokenRevoked(Guid TokenId) : ClinicEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<TokenRevoked>("revokeToken");

    /// <inheritdoc/>
    public override ClinicState Apply(ClinicState state) => state.Tokens.TryGetValue(TokenId, out var token)
        ? state with { Tokens = state.Tokens.SetItem(TokenId, token with { IsRevoked = true }) }
        : state;
}
