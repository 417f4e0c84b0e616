using System.Collections.Immutable;

namespace StagedMargins.Core.Entries.Clinics;

/// <summary>A clinic as its entries make it.</summary>
/// <param name="Settings">Its settings; null before its first entry.</param>
/// <param name="Tokens">Tokens of its other systems, by their id.</param>
/// <param name="ClosedMonths">Months whose figures were kept, by month.</param>
public sealed record ClinicState(ClinicSettings? Settings, ImmutableDictionary<Guid, TokenState> Tokens, ImmutableDictionary<string, MonthClosed> ClosedMonths)
{
    /// <summary>A clinic without entries.</summary>
    public static readonly ClinicState Empty = new(null, ImmutableDictionary<Guid, TokenState>.Empty, ImmutableDictionary<string, MonthClosed>.Empty);
}

/// <summary>A token of another system as its entries make it.</summary>
/// <param name="Made">How it was made.</param>
/// <param name="IsRevoked">True where it works no longer.</param>
public sealed record TokenState(TokenMade Made, bool IsRevoked);
