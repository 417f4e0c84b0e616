using System.Net;
using System.Security.Cryptography;
using Hl7.Fhir.Model;
using StagedMargins.Core;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;
using StagedMargins.Drawing;

namespace StagedMargins.Web.Features.Exchange;

/// <summary>The report of a case in FHIR R4: DiagnosticReport, with the map.</summary>
internal static class FhirReport
{
    private const int MapWidth = 1200;
    private const string Section = "http://terminology.hl7.org/CodeSystem/v2-0074";

    /// <summary>Adds it.</summary>
    /// <param name="told">The case.</param>
    /// <param name="results">The names of what counts now.</param>
    /// <param name="lastChange">When the case was last changed.</param>
    internal static void Add(FhirCase told, IReadOnlyList<string> results, ClinicalTime lastChange)
    {
        var surgicalCase = told.Case;
        var conclusion = Conclusion(told);
        var report = new DiagnosticReport
        {
            Identifier = { new Identifier(told.SystemOf("reports"), surgicalCase.CaseNumber) },
            Status = StatusOf(surgicalCase),
            Category = { new CodeableConcept(Section, "SP") },
            Code = FhirCase.Said("Margin map of a staged excision"),
            Subject = told.Patient,
            Effective = FhirCase.At(surgicalCase.Stages is [.., var last] ? last.TakenAt : surgicalCase.OpenedAt),
            Issued = lastChange.ToDateTimeOffset(),
            Specimen = [.. surgicalCase.Stages.Select(stage => told.To(FhirTissue.LayerOf(stage)))],
            Result = [.. results.Select(told.To)],
            Conclusion = conclusion,
            PresentedForm = { Map(told, lastChange) },
            Text = new Narrative
            {
                Status = Narrative.NarrativeStatus.Generated,
                Div = $"<div xmlns=\"http://www.w3.org/1999/xhtml\"><p>{WebUtility.HtmlEncode(conclusion)}</p><p>{WebUtility.HtmlEncode(Sentences.Disclaimer)}</p></div>",
            },
        };
        if (told.Person(surgicalCase.SurgeonId) is { } surgeon)
        {
            report.ResultsInterpreter.Add(surgeon);
        }

        told.Add("report", report);
    }

    /// <summary>What keeps margins from being clear, for example <c>tumour outstanding at the peripheral margin, 7:30 to 7:45 o'clock</c>.</summary>
    internal static string NotClear(CaseMargins margins) => margins.AfterStage == 0
        ? "no layer has been taken, so no margin has been seen to be clear"
        : string.Join("; ", margins.NotClear().Select(place => place.InSentence()));

    // Final once the case has ended; from a change of its readings after that on, amended.
    private static DiagnosticReport.DiagnosticReportStatus StatusOf(SurgicalCase surgicalCase) => surgicalCase.Ending switch
    {
        null => DiagnosticReport.DiagnosticReportStatus.Preliminary,
        var end when surgicalCase.Stages.SelectMany(stage => stage.Blocks).SelectMany(block => block.Readings).Any(reading => reading.RecordedAt.Utc > end.RecordedAt.Utc) =>
            DiagnosticReport.DiagnosticReportStatus.Amended,
        _ => DiagnosticReport.DiagnosticReportStatus.Final,
    };

    private static string Conclusion(FhirCase told)
    {
        var (surgicalCase, margins) = (told.Case, told.Margins);
        string?[] sentences =
        [
            .. surgicalCase.OpenReviews().Select(review => review.Message()),
            $"Margins after stage {margins.AfterStage}: {Standing.Of(surgicalCase).InWords()}.",
            margins.State == CaseState.Cleared ? null : Sentences.NotClear(NotClear(margins)),
            .. CaseMargins.Both.Where(margin => !margins[margin].Inflammation.IsEmpty)
                .Select(margin => $"{Sentences.At(Terms.InflammationMayHideTumour, Terms.Of(margin), margins[margin].Inflammation.InSentence()).Capitalised()}."),
            surgicalCase.ToBeCountersigned() is { Count: > 0 } unsigned ? Sentences.ToBeCountersigned(string.Join(", ", unsigned.Select(one => Sentences.StageBlock(one.Stage.Number, one.Block.Label)))) : null,
            surgicalCase.PermanentSectionsThatDiffer() is { Count: > 0 } differ
                ? $"Permanent sections differ from the reading that counts: {string.Join(", ", differ.Select(sent => $"stage {sent.StageNumber} block {sent.BlockLabel}"))}." : null,
            surgicalCase.Ending switch
            {
                null when surgicalCase.Pause?.ContinuesOn is { } day => Sentences.PausedUntil(day.InWords()),
                null => Sentences.CaseOpen,
                { } end when surgicalCase.ClearedNow == false => $"{end.InWords()}. {Sentences.ClosedAsClear}",
                { } end => $"{end.InWords()}.",
            },
        ];
        return string.Join(" ", sentences.OfType<string>());
    }

    private static Attachment Map(FhirCase told, ClinicalTime lastChange)
    {
        var png = MapPicture.ToPng(new MapRequest(told.Case, told.Overlap, told.Case.Stages.Count, Cumulative: true, ShowPatientRef: false), MapWidth);
        return new Attachment
        {
            ContentType = "image/png",
            Data = png,
            SizeUnsignedInt = png.Length,
            Hash = Sha1(png),
            Title = $"Cumulative map of case {told.Case.CaseNumber}",
            CreationElement = FhirCase.At(lastChange),
        };
    }

    // FHIR R4 says that Attachment.hash is SHA-1. It tells whether the picture came over whole and secures nothing.
#pragma warning disable CA5350
    private static byte[] Sha1(byte[] bytes) => SHA1.HashData(bytes);
#pragma warning restore CA5350
}
