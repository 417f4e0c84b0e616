namespace StagedMargins.Web.Tests.Testing;

/// <summary>A database with the clinic of the tests, and the bearer tokens of its people, which hold in every copy of it.</summary>
/// <param name="Database">The database, which no one is connected to.</param>
/// <param name="Tokens">Tokens by address.</param>
internal sealed record ClinicTemplate(TestDatabase Database, IReadOnlyDictionary<string, string> Tokens)
{
    /// <summary>Makes the clinic in a database without people, over HTTP.</summary>
    internal static async Task<IReadOnlyDictionary<string, string>> FillAsync(TestDatabase database)
    {
        await using var host = ServiceHost.Start(database);
        var administrator = await TestClinic.FoundAsync(host, TestClinic.AdministratorEmail, "Clinic of the tests");
        var tokens = new Dictionary<string, string> { [TestClinic.AdministratorEmail] = administrator.Token! };
        foreach (var (email, role) in TestClinic.People)
        {
            tokens[email] = (await TestClinic.AddAsync(administrator, host.Stranger(), email, role)).Token!;
        }

        return tokens;
    }
}
