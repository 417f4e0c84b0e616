namespace StagedMargins.Web.Hosting;

/// <summary>The folder of the user who runs the service, where its files stand unless the settings say otherwise.</summary>
public static class DataFolder
{
    /// <summary>Its path.</summary>
    /// <exception cref="StartFailureException">This user has none.</exception>
    public static string Path()
    {
        var folder = Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.Create);
        return folder.Length > 0
            ? System.IO.Path.Combine(folder, "StagedMargins")
            : throw new StartFailureException("There is no data folder for this user; set ConnectionStrings:Default to a SQLite file and History:KeyFile to a file for the keys.");
    }
}
