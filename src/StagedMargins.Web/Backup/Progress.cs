namespace StagedMargins.Web.Backup;

/// <summary>Says now and then how far a long work is.</summary>
/// <param name="output">Where it says so.</param>
/// <param name="clock">The clock.</param>
internal sealed class Progress(TextWriter output, TimeProvider clock)
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(2);
    private long last = clock.GetTimestamp();
    private volatile string part = "Beginning";

    /// <summary>Which part of the work is under way, without any number of rows: for whoever may not see how much others have recorded.</summary>
    internal string Part => part;

    /// <summary>Another part of the work has begun.</summary>
    internal void Begin(FormattableString what) => part = FormattableString.Invariant(what);

    /// <summary>A step has begun or ended.</summary>
    internal void Say(FormattableString line) => output.WriteLine(FormattableString.Invariant(line));

    /// <summary>So many rows of a table are done.</summary>
    internal void Rows(string table, long count)
    {
        if (clock.GetElapsedTime(last) >= Pause)
        {
            last = clock.GetTimestamp();
            Say($"  {table}: {count:N0} rows so far");
        }
    }
}
