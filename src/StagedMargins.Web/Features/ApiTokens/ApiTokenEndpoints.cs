using Microsoft.EntityFrameworkCore;
using StagedMargins.Core;
using StagedMargins.Storage;
using StagedMargins.Storage.People;
using StagedMargins.Web.Contract;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Problems;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Features.ApiTokens;

/// <summary>A token as it is asked for.</summary>
/// <param name="Name">What it is for; histories show it.</param>
/// <param name="Roles">What it may do.</param>
/// <param name="ExpiresAt">Until when it works; without it, until it is revoked.</param>
public sealed record ApiTokenBody(string? Name, string[]? Roles, DateTimeOffset? ExpiresAt);

/// <summary>A token as it is sent, without its secret.</summary>
/// <param name="Id">Its number.</param>
/// <param name="Name">What it is for.</param>
/// <param name="Roles">What it may do.</param>
/// <param name="MadeAt">When it was made.</param>
/// <param name="MadeBy">By whom.</param>
/// <param name="ExpiresAt">Until when it works.</param>
/// <param name="RevokedAt">When it was revoked.</param>
/// <param name="LastUsedAt">When it was last used, to the minute.</param>
public sealed record ApiTokenView(
    Guid Id, string Name, string[] Roles, DateTimeOffset MadeAt, string? MadeBy, DateTimeOffset? ExpiresAt, DateTimeOffset? RevokedAt, DateTimeOffset? LastUsedAt);

/// <summary>A new token. It is shown this once.</summary>
/// <param name="ApiToken">What is kept of it.</param>
/// <param name="Token">The token, to be sent as a bearer token.</param>
public sealed record NewApiTokenView(ApiTokenView ApiToken, string Token);

/// <summary>Tokens of other systems of the clinic. Only an administrator in person makes and revokes them.</summary>
public static class ApiTokenEndpoints
{
    /// <summary>Adds the routes.</summary>
    public static void MapApiTokens(this IEndpointRouteBuilder routes)
    {
        var tokens = routes.MapGroup("/api/tokens").WithTags("People and settings").RequireAuthorization(Policies.Administrator, Policies.Person);
        tokens.MapGet("/", ListAsync).WithSummary("The API tokens of other systems.").Produces<ApiTokenView[]>();
        tokens.MapPost("/", MakeAsync).WithSummary("Creates an API token for another system and shows it once.").Produces<NewApiTokenView>(StatusCodes.Status201Created);
        tokens.MapPost("/{tokenId:guid}/revoke", RevokeAsync).WithSummary("Revokes a token at once.").Produces<ApiTokenView>();
    }

    private static async Task<IResult> ListAsync(CurrentPerson person, ClinicContext db, CancellationToken cancel)
    {
        var people = await ClinicPeople.LoadAsync(db, person.ClinicId, cancel);
        var tokens = await db.ApiTokens.AsNoTracking().OrderBy(token => token.Name).ThenBy(token => token.MadeUtc).ToListAsync(cancel);
        return Results.Ok(tokens.Select(token => View(token, people)));
    }

    private static async Task<IResult> MakeAsync(ApiTokenBody body, CurrentPerson person, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        var now = clock.GetUtcNow();
        var errors = new FieldErrors();
        var name = errors.Collect(null, () => FreeText.Required("name", body.Name, ApiToken.LongestName));
        var roles = errors.Collect(null, () => PersonFields.OfRoles(body.Roles));
        if (body.ExpiresAt <= now)
        {
            errors.Add("expiresAt", "This time is in the past.");
        }

        errors.ThrowIfAny();
        var token = ApiToken.New();
        var made = new ApiToken
        {
            ClinicId = person.ClinicId,
            Id = Guid.CreateVersion7(),
            Name = name!,
            RoleWords = string.Join(' ', roles!),
            Hash = ApiToken.HashOf(token),
            MadeUtc = ClinicalTime.From(now).Utc,
            MadeById = person.Id,
            ExpiresUtc = body.ExpiresAt is { } expires ? ClinicalTime.From(expires).Utc : null,
        };
        db.Add(made);
        await db.SaveChangesAsync(cancel);
        return Results.Created("/api/tokens", new NewApiTokenView(View(made, await ClinicPeople.LoadAsync(db, person.ClinicId, cancel)), token));
    }

    private static async Task<IResult> RevokeAsync(Guid tokenId, CurrentPerson person, ClinicContext db, TimeProvider clock, CancellationToken cancel)
    {
        var token = await db.ApiTokens.SingleOrDefaultAsync(known => known.Id == tokenId, cancel) ?? throw new NotInRecordException("Token not found.");
        token.RevokedUtc ??= ClinicalTime.From(clock.GetUtcNow()).Utc;
        await db.SaveChangesAsync(cancel);
        return Results.Ok(View(token, await ClinicPeople.LoadAsync(db, person.ClinicId, cancel)));
    }

    private static ApiTokenView View(ApiToken token, ClinicPeople people) => new(
        token.Id, token.Name, token.RoleWords.Split(' '), At(token.MadeUtc)!.Value, people.EmailOf(token.MadeById), At(token.ExpiresUtc), At(token.RevokedUtc), At(token.LastUsedUtc));

    private static DateTimeOffset? At(DateTime? utc) => utc is { } known ? new DateTimeOffset(DateTime.SpecifyKind(known, DateTimeKind.Utc)) : null;
}
