namespace StagedMargins.Web.Tests.Fuzz;

/// <summary>A body that comes in a few pieces with pauses, of a length that is not said beforehand.</summary>
/// <param name="bytes">The body.</param>
public sealed class SlowBody(byte[] bytes) : MemoryStream(bytes)
{
    private readonly int piece = Math.Max(1, bytes.Length / 4);

    public override bool CanSeek => false;

    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
    {
        await Task.Delay(5, cancellationToken);
        return Read(buffer.Span[..Math.Min(buffer.Length, piece)]);
    }
}
