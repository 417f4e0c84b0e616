using System.Text;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>
/// What the program writes to the console while it is run in this process, kept apart for whoever runs it; several may run at once.
/// What nobody captures goes to the real console.
/// </summary>
internal sealed class ConsoleCapture
{
    private static readonly AsyncLocal<ConsoleCapture?> Current = new();

    private readonly StringBuilder output = new();
    private readonly StringBuilder errors = new();
    private volatile bool isOver;

    static ConsoleCapture()
    {
        Console.SetOut(new Router(Console.Out, capture => capture.output));
        Console.SetError(new Router(Console.Error, capture => capture.errors));
    }

    /// <summary>What was written to standard output.</summary>
    internal string Output => Said(output);

    /// <summary>What was written to standard error.</summary>
    internal string Errors => Said(errors);

    /// <summary>Captures what an action writes, and whatever it begins; what those write afterwards goes to the console.</summary>
    internal T During<T>(Func<T> action)
    {
        var before = Current.Value;
        Current.Value = this;
        try
        {
            return action();
        }
        finally
        {
            Current.Value = before;
            isOver = true;
        }
    }

    private static string Said(StringBuilder text)
    {
        lock (text)
        {
            return text.ToString();
        }
    }

    private sealed class Router(TextWriter console, Func<ConsoleCapture, StringBuilder> textOf) : TextWriter
    {
        public override Encoding Encoding => console.Encoding;

        public override void Write(char value) => Write([value]);

        public override void Write(char[] buffer, int index, int count) => Write(buffer.AsSpan(index, count));

        public override void Write(string? value) => Write(value.AsSpan());

        public override void WriteLine(string? value) => Write($"{value}{NewLine}");

        public override void Write(ReadOnlySpan<char> buffer)
        {
            if (Current.Value is not { isOver: false } capture)
            {
                console.Write(buffer);
                return;
            }

            var text = textOf(capture);
            lock (text)
            {
                text.Append(buffer);
            }
        }

        public override void Flush() => console.Flush();
    }
}
