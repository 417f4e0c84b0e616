using Microsoft.AspNetCore.Identity;

namespace StagedMargins.Storage.People;

/// <summary>Someone who signs in. Belongs to one clinic.</summary>
public sealed class Person : IdentityUser<Guid>
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; set; }

    /// <summary>The name shown to colleagues.</summary>
    public string DisplayName { get; set; } = "";

    /// <summary>True where the administrator has closed the account: nobody signs in with it, and what they did stays theirs.</summary>
    public bool IsDisabled { get; set; }

    /// <summary>The hash of the one-time code with which the person sets a password; null where none is out. See <see cref="OneTimeCode"/>.</summary>
    public string? PasswordCodeHash { get; set; }

    /// <summary>Until when the code holds.</summary>
    public DateTime? PasswordCodeUntilUtc { get; set; }

    /// <summary>The last half-minute whose time code was taken, so that none is taken twice (RFC 6238 section 5.2).</summary>
    public long LastTimeStep { get; set; }
}

/// <summary>What people may do. The words are those of the sign-in token.</summary>
public static class Roles
{
    /// <summary>Works at the bench: opens cases, records stages and blocks, writes readings down for the reader.</summary>
    public const string Histotech = "histotech";

    /// <summary>Operates and reads: everything of a case.</summary>
    public const string Surgeon = "surgeon";

    /// <summary>Audits, without patient references.</summary>
    public const string Manager = "manager";

    /// <summary>Keeps people and settings.</summary>
    public const string Administrator = "administrator";

    /// <summary>All of them.</summary>
    public static readonly IReadOnlyList<string> All = [Histotech, Surgeon, Manager, Administrator];
}
