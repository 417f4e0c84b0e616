using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;

namespace StagedMargins.Core.Tests.Mapping;

public sealed class SurgicalCaseTests
{
    [Fact]
    public void A_case_is_kept_as_it_was_opened()
    {
        var surgicalCase = Some.Case();
        (surgicalCase.Case.ClinicId, surgicalCase.Case.CaseNumber, surgicalCase.Case.PatientRef, surgicalCase.Case.SurgeonId, surgicalCase.Case.TwelveOClock, surgicalCase.Case.OpenedById, surgicalCase.Case.OpenedAt)
            .ShouldBe((Some.Clinic, "2026-0142", "C-20417", Some.Surgeon, "toward the vertex", Some.Histotech, Some.At(0)));
        var facts = surgicalCase.Case.Facts;
        facts.ShouldBe(Some.Facts() with { Indications = facts.Indications });
        surgicalCase.Case.Stages.ShouldBeEmpty();
        surgicalCase.Margins().ShouldBe(CaseMargins.Untouched(Some.Overlap));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("   ")]
    public void What_a_case_must_say_is_required(string? text)
    {
        Refusal.OfEntry("patientRef", () => Open("1", Some.Opening() with { PatientRef = text }));
        Refusal.OfEntry("twelveOClock", () => Open("1", Some.Opening() with { TwelveOClock = text }));
    }

    [Fact]
    public void A_refusal_does_not_repeat_the_patient_reference()
    {
        var tooLong = new string('7', 65);
        Refusal.OfEntry("patientRef", () => Open("1", Some.Opening() with { PatientRef = tooLong })).Message.ShouldNotContain("777");
        Open("1", Some.Opening() with { PatientRef = tooLong[1..] }).Case.PatientRef.Length.ShouldBe(64);
        Refusal.OfEntry("twelveOClock", () => Open("1", Some.Opening() with { TwelveOClock = new string('x', 201) }));
    }

    [Theory]
    [InlineData("2026-0142", true)]
    [InlineData("a-B-1", true)]
    [InlineData("", false)]
    [InlineData("-1", false)]
    [InlineData("2026/0142", false)]
    [InlineData("2026 0142", false)]
    [InlineData("2026-0142\n", false)]
    [InlineData("a.B", false)]
    [InlineData("a_B", false)]
    [InlineData("12345678901234567890", true)]
    [InlineData("123456789012345678901", false)]
    public void A_case_number_is_short_and_plain(string number, bool isGood)
    {
        if (isGood)
        {
            Open(number, Some.Opening()).Case.CaseNumber.ShouldBe(number);
        }
        else
        {
            Refusal.OfEntry("caseNumber", () => Open(number, Some.Opening()));
        }
    }

    [Fact]
    public void A_case_may_be_opened_before_its_surgeon_is_known() =>
        Open("1", Some.Opening() with { SurgeonId = null }).Case.SurgeonId.ShouldBeNull();

    private static CaseLog Open(string number, NewCase opening) => new(Some.Clinic, number, opening, SizeBoundary.BelongsAbove, Some.Histotech, Some.At(0));
}
