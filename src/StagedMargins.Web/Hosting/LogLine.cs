using System.Globalization;
using Serilog.Events;
using Serilog.Formatting;
using Serilog.Formatting.Display;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// How the log is written. Control characters become escapes, so that nothing which was sent makes a line of its own or speaks to a
/// terminal. Of an exception during a request only the types and the stack are written: its message may hold what was sent.
/// </summary>
public sealed class LogLine : ITextFormatter
{
    private const string OfRequest = "RequestId";

    private readonly MessageTemplateTextFormatter line = new("[{Timestamp:HH:mm:ss} {Level:u3}] {Message:lj}", CultureInfo.InvariantCulture);

    /// <inheritdoc/>
    public void Format(LogEvent logEvent, TextWriter output)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        line.Format(logEvent, text);
        output.WriteLine(Escaped(text.ToString()));
        for (var exception = logEvent.Exception; exception is not null; exception = exception.InnerException)
        {
            output.WriteLine(logEvent.Properties.ContainsKey(OfRequest) ? exception.GetType().FullName : Escaped($"{exception.GetType().FullName}: {exception.Message}"));
            if (exception.StackTrace is { } stack)
            {
                output.WriteLine(stack);
            }
        }
    }

    private static string Escaped(string text) => string.Concat(text.Select(c =>
        char.GetUnicodeCategory(c) is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
            ? string.Create(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}")
            : c.ToString()));
}
