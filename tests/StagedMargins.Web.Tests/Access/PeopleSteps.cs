using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>Steps of the administrator.</summary>
public static class PeopleSteps
{
    /// <summary>The number of a person of the clinic.</summary>
    public static Task<string> PersonIdAsync(this TestClinic clinic, string email) => clinic.Administrator.PersonIdAsync(email);

    /// <summary>The number of a person of the administrator's clinic.</summary>
    public static async Task<string> PersonIdAsync(this Caller administrator, string email) =>
        (await administrator.GetAsync("/api/people")).Expect(200).Json.AsArray().Single(person => person!["email"]!.GetValue<string>() == email)!["id"]!.GetValue<string>();
}
