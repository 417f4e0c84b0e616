using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>Who confirmed the site before the first layer, and loudly where two people did not.</summary>
internal static class SiteSection
{
    private static readonly (string, double)[] Columns = [("Confirmed by", 0.25), ("When", 0.25), ("Site", 0.3), ("Note", 0.2)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        var surgicalCase = print.Case;
        flow.Section("Confirmation of the site");
        if (surgicalCase.Stages is [var first, ..] && first.Alerts.FirstOrDefault(alert => alert.Code == AlertCode.SiteNotConfirmed) is { } unconfirmed)
        {
            flow.Loud(unconfirmed.Message());
        }
        else if (surgicalCase.IsSiteConfirmed())
        {
            flow.Write(Sentences.TwoPeopleConfirmed);
        }
        else
        {
            flow.Loud("The site, as recorded now, has not been confirmed by two people.");
        }

        flow.Down(PageFlow.Gap / 2);
        Rows.Write(flow, Columns, surgicalCase.SiteConfirmations.SelectMany(confirmation => RowsOf(print, confirmation)));
    }

    private static IEnumerable<Row> RowsOf(RecordPrintout print, SiteConfirmation confirmation)
    {
        var holds = confirmation.Site == print.Case.Facts.Site;
        yield return new Row(
            [print.Who(confirmation.ConfirmedById), confirmation.ConfirmedAt.InWords(), confirmation.Site.InWords(), confirmation.Note ?? ""],
            !holds);
        if (!holds)
        {
            yield return new Row(["", "", Sentences.SiteCorrectedSince, ""]);
        }
    }
}
