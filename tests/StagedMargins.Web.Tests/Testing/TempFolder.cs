namespace StagedMargins.Web.Tests.Testing;

/// <summary>A folder of its own for a test, gone with all that is in it.</summary>
public sealed class TempFolder : IDisposable
{
    /// <summary>Where it is.</summary>
    public string Path { get; } = Directory.CreateTempSubdirectory("margins-").FullName;

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
