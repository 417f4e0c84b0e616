using StagedMargins.Core.Wording;

namespace StagedMargins.Web.Demo;

/// <summary>What a demo start says when the service listens.</summary>
internal static class DemoGreeting
{
    internal static void Print(string address, DemoClinic clinic, string? password, bool isFromEnvironment)
    {
        var said = (password, isFromEnvironment) switch
        {
            (null, _) => "the one printed at the first start; to choose another, set STAGEDMARGINS_DEMO_PASSWORD and restart",
            (_, true) => "the value of STAGEDMARGINS_DEMO_PASSWORD",
            _ => $"{password}   (printed only once)",
        };
        Console.WriteLine($"""

            {clinic.Name}
            Listening at  {address}      try the API at  {address}/api-docs
            Accounts      {string.Join("\n              ", clinic.People.Select(person => $"{person.Email}  ({string.Join(", ", person.Roles)})"))}
            Password      {said}

            Three commands to try (bash):
              TOKEN=$(curl -s {address}/api/auth/login -H 'Content-Type: application/json' -d '{"{"}"email":"surgeon@demo.invalid","password":"{(isFromEnvironment || password is null ? "'\"$STAGEDMARGINS_DEMO_PASSWORD\"'" : password)}"{"}"}' | sed 's/.*"accessToken":"\([^"]*\).*/\1/')
              curl -s -H "Authorization: Bearer $TOKEN" '{address}/api/cases?status=open'
              ID=$(curl -s -H "Authorization: Bearer $TOKEN" '{address}/api/cases?status=open&limit=1' | sed 's/.*"id":"\([^"]*\).*/\1/'); curl -s -H "Authorization: Bearer $TOKEN" {address}/api/cases/$ID/map.png -o map.png

            {Sentences.Disclaimer}
            Everything shown is invented. Stop with Ctrl+C.

            """);
    }
}
