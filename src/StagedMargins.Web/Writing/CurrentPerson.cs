using System.Security.Claims;
using StagedMargins.Storage.People;

namespace StagedMargins.Web.Writing;

/// <summary>Who is signed in: a person, or another system with its token.</summary>
/// <param name="Id">Their number.</param>
/// <param name="ClinicId">Their clinic.</param>
/// <param name="Principal">Their roles.</param>
public sealed record CurrentPerson(Guid Id, Guid ClinicId, ClaimsPrincipal Principal)
{
    /// <summary>The claim that names the clinic.</summary>
    public const string ClinicClaim = "clinic";

    /// <summary>The claim of another system that calls with a token of its own.</summary>
    public const string ApiTokenClaim = "apiToken";

    /// <summary>True for another system: it has no account and signs nothing.</summary>
    public bool IsApiToken => Principal.HasClaim(claim => claim.Type == ApiTokenClaim);

    /// <summary>Taken from the sign-in token.</summary>
    public static ValueTask<CurrentPerson?> BindAsync(HttpContext context) => ValueTask.FromResult(From(context.User));

    /// <summary>The person of a token, or null where nobody is signed in.</summary>
    public static CurrentPerson? From(ClaimsPrincipal user) =>
        Guid.TryParse(user.FindFirstValue(ClaimTypes.NameIdentifier), out var id) && Guid.TryParse(user.FindFirstValue(ClinicClaim), out var clinic)
            ? new CurrentPerson(id, clinic, user)
            : null;

    /// <summary>The surgeon to whose cases the figures they see are limited; null for a manager, who sees those of all.</summary>
    public Guid? FiguresLimitedTo => Is(Roles.Manager) ? null : Id;

    /// <summary>True where the person has a role.</summary>
    public bool Is(string role) => Principal.IsInRole(role);
}
