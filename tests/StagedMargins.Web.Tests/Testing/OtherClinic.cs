namespace StagedMargins.Web.Tests.Testing;

/// <summary>A further clinic in the same record.</summary>
public static class OtherClinic
{
    /// <summary>A surgeon of a clinic made for the occasion.</summary>
    public static async Task<Caller> SurgeonAsync(TestClinic beside)
    {
        var (_, surgeon) = await WithSurgeonAsync(beside);
        return surgeon;
    }

    /// <summary>The administrator and a surgeon of a clinic made for the occasion.</summary>
    public static async Task<(Caller Administrator, Caller Surgeon)> WithSurgeonAsync(TestClinic beside)
    {
        var administrator = await AdministratorAsync(beside);
        return (administrator, await TestClinic.AddAsync(administrator, beside.Stranger, $"s{Guid.NewGuid():N}@other.invalid", "surgeon"));
    }

    /// <summary>The administrator of a clinic made for the occasion.</summary>
    public static Task<Caller> AdministratorAsync(TestClinic beside) =>
        TestClinic.FoundAsync(beside.Host, $"a{Guid.NewGuid():N}@other.invalid", "Another clinic of the tests");
}
