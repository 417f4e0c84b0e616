using StagedMargins.Core.Mapping;
using StagedMargins.Core.Wording;

namespace StagedMargins.Drawing.Documents;

/// <summary>Every question that evidence raised, with the surgeon's answer. One that nobody has answered stands in capitals.</summary>
internal static class ReviewsSection
{
    private static readonly (string, double)[] Columns = [("Review", 0.38), ("Raised", 0.2), ("Decision and words", 0.42)];

    internal static void Write(PageFlow flow, RecordPrintout print)
    {
        flow.Section("Reviews");
        if (print.Case.Reviews.Count == 0)
        {
            flow.Write("None was raised.");
        }

        Rows.Write(flow, Columns, print.Case.Reviews.Select(review => new Row([review.Message(), review.RaisedAt.InWords(), InWords(print, review.Answer)])));
    }

    private static string InWords(RecordPrintout print, ReviewAnswer? answer) => answer is null
        ? "OPEN"
        : $"{Terms.Of(answer.Decision).Capitalised()}. {answer.Note}. {print.Who(answer.ById)}, {answer.At.InWords()}";
}
