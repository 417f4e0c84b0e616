using System.Buffers.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Authentication.BearerToken;
using Microsoft.AspNetCore.Identity;
using StagedMargins.Core;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.Account;

/// <summary>A passkey that the browser made.</summary>
/// <param name="Name">What the person calls it.</param>
/// <param name="Credential">What the browser gave, as JSON.</param>
public sealed record PasskeyBody(string? Name, JsonElement? Credential);

/// <summary>A passkey that the browser signs in with.</summary>
/// <param name="Credential">What the browser gave, as JSON.</param>
public sealed record PasskeySignInBody(JsonElement? Credential);

/// <summary>A passkey as it is sent.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Name">What the person calls it.</param>
/// <param name="MadeAt">When it was made.</param>
public sealed record PasskeyView(string Id, string? Name, DateTimeOffset MadeAt);

/// <summary>
/// Passkeys (WebAuthn) of one's own account. A passkey signs in alone, for it is two factors: the device, and the finger, face
/// or number that opens it, which is asked for each time.
/// </summary>
public static class PasskeyEndpoints
{
    private const int LongestName = 100;

    /// <summary>Adds the routes.</summary>
    public static void MapPasskeys(this IEndpointRouteBuilder routes)
    {
        var passkeys = routes.MapGroup("/api/auth/passkeys").WithTags("Second factor");
        var own = passkeys.MapGroup("").RequireAuthorization(Policies.Person);
        own.MapGet("/", ListAsync).WithSummary("The caller's own passkeys.").Produces<PasskeyView[]>();
        own.MapPost("/registration-options", RegistrationOptionsAsync).WithSummary("Options for the browser's navigator.credentials.create.").Produces<JsonElement>();
        own.MapPost("/", AddAsync).WithSummary("Adds the passkey that the browser created.").Produces<PasskeyView>(StatusCodes.Status201Created);
        own.MapPost("/{passkeyId}/remove", RemoveAsync).WithSummary("Removes a passkey.").Produces(StatusCodes.Status204NoContent);
        passkeys.MapPost("/sign-in-options", SignInOptionsAsync).AllowAnonymous().WithSummary("Options for the browser's navigator.credentials.get.").Produces<JsonElement>();
        passkeys.MapPost("/sign-in", SignInAsync).AllowAnonymous()
            .WithSummary("Signs in with a passkey; with pages=true, the cookie for the pages instead of a token.").Produces<AccessTokenResponse>();
    }

    private static async Task<IResult> ListAsync(CurrentPerson person, UserManager<Person> people) =>
        Results.Ok((await people.GetPasskeysAsync(await people.GetAsync(person))).Select(View));

    private static async Task<IResult> RegistrationOptionsAsync(
        OwnPasswordBody body, CurrentPerson person, UserManager<Person> people, SignInManager<Person> signIn, PasswordSignIn passwords, CancellationToken cancel)
    {
        var own = await people.GetAsync(person);
        await passwords.ConfirmAsync(own, body.Password, cancel);
        return Json(await signIn.MakePasskeyCreationOptionsAsync(new PasskeyUserEntity { Id = own.Id.ToString(), Name = own.Email!, DisplayName = own.DisplayName }));
    }

    private static async Task<IResult> AddAsync(PasskeyBody body, CurrentPerson person, UserManager<Person> people, SignInManager<Person> signIn)
    {
        var name = FreeText.Required("name", body.Name, LongestName);
        var credential = Credential(body.Credential);
        var own = await people.GetAsync(person);
        var made = await AskedAsync(() => signIn.PerformPasskeyAttestationAsync(credential));
        if (made is not { Succeeded: true } || made.UserEntity.Id != own.Id.ToString())
        {
            throw new InvalidEntryException("credential", "This passkey can't be accepted. Request new registration options and let the browser create another.");
        }

        made.Passkey.Name = name;
        (await people.AddOrUpdatePasskeyAsync(own, made.Passkey)).OrRefuse();
        return Results.Created("/api/auth/passkeys", View(made.Passkey));
    }

    private static async Task<IResult> RemoveAsync(string passkeyId, CurrentPerson person, UserManager<Person> people)
    {
        var own = await people.GetAsync(person);
        var id = Base64Url.IsValid(passkeyId) ? Base64Url.DecodeFromChars(passkeyId) : [];
        if (await people.GetPasskeyAsync(own, id) is null)
        {
            throw new NotInRecordException("You have no such passkey.");
        }

        (await people.RemovePasskeyAsync(own, id)).OrRefuse();
        return Results.NoContent();
    }

    // For nobody in particular: the answer tells nothing about who is known here.
    private static async Task<IResult> SignInOptionsAsync(SignInManager<Person> signIn) => Json(await signIn.MakePasskeyRequestOptionsAsync(null));

    private static async Task<IResult> SignInAsync(
        PasskeySignInBody body, bool? pages, UserManager<Person> people, SignInManager<Person> signIn, FailedLogins failed, HttpContext http, CancellationToken cancel)
    {
        var network = http.Connection.RemoteIpAddress;
        using var turn = await failed.EnterAsync(null, network, cancel);
        var credential = Credential(body.Credential);
        var shown = await AskedAsync(() => signIn.PerformPasskeyAssertionAsync(credential));
        if (shown is not { Succeeded: true } || shown.User.IsDisabled)
        {
            failed.Note(null, network);
            throw new NotSignedInException("passkeyNotRight", "This passkey is unknown or its answer was wrong. Try again, or sign in with your password.");
        }

        (await people.AddOrUpdatePasskeyAsync(shown.User, shown.Passkey)).OrRefuse();
        return await SignInAnswer.AnswerAsync(http, await signIn.CreateUserPrincipalAsync(shown.User), pages);
    }

    // The framework takes an answer to options that were never asked for, or have run out, for a fault of the program.
    private static async Task<T?> AskedAsync<T>(Func<Task<T>> perform)
        where T : class
    {
        try
        {
            return await perform();
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    private static string Credential(JsonElement? credential) => credential is { ValueKind: JsonValueKind.Object } given
        ? given.GetRawText()
        : throw new InvalidEntryException("credential", "Send the JSON that the browser returned.");

    private static IResult Json(string json) => Results.Text(json, "application/json");

    private static PasskeyView View(UserPasskeyInfo passkey) => new(Base64Url.EncodeToString(passkey.CredentialId), passkey.Name, passkey.CreatedAt);
}
