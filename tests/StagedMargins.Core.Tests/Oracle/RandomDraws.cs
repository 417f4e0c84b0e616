namespace StagedMargins.Core.Tests.Oracle;

/// <summary>Rolls that were drawn beforehand. When they are used up every roll is 0, so that fewer rolls make a simpler case.</summary>
internal sealed class RandomDraws(IReadOnlyList<int> rolls)
{
    private int used;

    /// <summary>A number from 0 up to and without a limit.</summary>
    public int Below(int limit) => used < rolls.Count ? rolls[used++] % limit : 0;

    public int Between(int least, int most) => least + Below(most - least + 1);

    public bool Chance(int percent) => Below(100) >= 100 - percent;

    public T OneOf<T>(params ReadOnlySpan<T> choices) => choices[Below(choices.Length)];
}
