using Microsoft.AspNetCore.Identity;

namespace StagedMargins.Storage.People;

/// <summary>Someone who signs in. Belongs to one clinic.</summary>
public sealed class Person : IdentityUser<Guid>
{
    /// <summary>The clinic.</summary>
    public Guid ClinicId { get; set; }

    /// <summary>The name shown to colleagues.</summary>
    public string DisplayName { get; set; } = "";
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
