namespace StagedMargins.Core.Entries.Clinics;

/// <summary>The clinic was added, with its first settings.</summary>
/// <param name="Settings">The settings.</param>
public sealed record ClinicAdded(ClinicSettings Settings) : ClinicEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<ClinicAdded>("addClinic");

    /// <inheritdoc/>
    public override ClinicState Apply(ClinicState state) => state with { Settings = Settings };
}

/// <summary>Settings of the clinic were changed. They hold from here on; what was decided before keeps those it was decided with.</summary>
/// <param name="Settings">All settings, as they hold from now on.</param>
public sealed record SettingsChanged(ClinicSettings Settings) : ClinicEvent
{
    /// <summary>Its kind.</summary>
    public static readonly EntryKind Kind = For<SettingsChanged>("changeSettings");

    /// <inheritdoc/>
    public override ClinicState Apply(ClinicState state) => state with { Settings = Settings };
}
