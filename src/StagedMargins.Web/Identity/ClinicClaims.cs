using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using StagedMargins.Storage.People;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Identity;

/// <summary>Puts the clinic into the sign-in token.</summary>
/// <param name="people">People.</param>
/// <param name="roles">Roles.</param>
/// <param name="options">Options of the framework.</param>
public sealed class ClinicClaims(UserManager<Person> people, RoleManager<IdentityRole<Guid>> roles, IOptions<IdentityOptions> options)
    : UserClaimsPrincipalFactory<Person, IdentityRole<Guid>>(people, roles, options)
{
    /// <inheritdoc/>
    protected override async Task<ClaimsIdentity> GenerateClaimsAsync(Person user)
    {
        var identity = await base.GenerateClaimsAsync(user);
        identity.AddClaim(new Claim(CurrentPerson.ClinicClaim, user.ClinicId.ToString()));
        return identity;
    }
}
