namespace StagedMargins.Core.Entries;

/// <summary>Where words stand: what ties their ciphertext to one field of one subject, so that it can't be moved to another.</summary>
/// <param name="ClinicId">The clinic.</param>
/// <param name="SubjectKind">The kind of the subject whose data key encrypts them, in one word.</param>
/// <param name="SubjectId">Which subject.</param>
/// <param name="Kind">The kind of entry.</param>
/// <param name="Form">The version of its form.</param>
/// <param name="Field">The field, by its path in the body without indexes, for example <c>facts.site.detail</c>.</param>
public sealed record WordsPlace(Guid ClinicId, string SubjectKind, Guid SubjectId, string Kind, int Form, string Field);
