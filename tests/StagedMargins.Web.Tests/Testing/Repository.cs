namespace StagedMargins.Web.Tests.Testing;

/// <summary>The folder that holds the solution.</summary>
public static class Repository
{
    /// <summary>Its path.</summary>
    public static string Root { get; } = Find(new DirectoryInfo(AppContext.BaseDirectory));

    /// <summary>The program as it was built beside these tests.</summary>
    public static string Program
    {
        get
        {
            // …/bin/<configuration>/<framework>, the same for both.
            var output = new DirectoryInfo(AppContext.BaseDirectory.TrimEnd(Path.DirectorySeparatorChar));
            return Path.Combine(Root, "src", "StagedMargins.Web", "bin", output.Parent!.Name, output.Name, "StagedMargins.Web.dll");
        }
    }

    private static string Find(DirectoryInfo? from) => from is null
        ? throw new DirectoryNotFoundException("The tests run inside their repository.")
        : File.Exists(Path.Combine(from.FullName, "StagedMargins.sln")) ? from.FullName : Find(from.Parent);
}
