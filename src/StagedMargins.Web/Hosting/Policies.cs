using Microsoft.AspNetCore.Authorization;
using StagedMargins.Storage.People;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Hosting;

/// <summary>Who may do what. A route without a policy takes anyone signed in; a route open to all says so.</summary>
public static class Policies
{
    /// <summary>Open a case, record stages, blocks and readings.</summary>
    public const string RecordCase = nameof(RecordCase);

    /// <summary>See a case and its maps.</summary>
    public const string SeeCase = nameof(SeeCase);

    /// <summary>Sign, amend, measure and end.</summary>
    public const string Surgeon = nameof(Surgeon);

    /// <summary>Keep people and settings.</summary>
    public const string Administrator = nameof(Administrator);

    /// <summary>See who looked at a case.</summary>
    public const string SeeOpenings = nameof(SeeOpenings);

    /// <summary>See what is past the time that it is kept.</summary>
    public const string SeeRetention = nameof(SeeRetention);

    /// <summary>See the audit: a manager all of it, a surgeon their own figures beside the clinic's.</summary>
    public const string SeeAudit = nameof(SeeAudit);

    /// <summary>Close a month of the audit.</summary>
    public const string Manager = nameof(Manager);

    /// <summary>See follow-up and counting units without patient references: a manager all of them, a surgeon their own.</summary>
    public const string SeeFollowUp = nameof(SeeFollowUp);

    /// <summary>Someone in person, about their own account.</summary>
    public const string Person = nameof(Person);

    /// <summary>Sets them.</summary>
    public static void Add(AuthorizationBuilder authorization) => authorization
        .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build())
        .AddPolicy(RecordCase, policy => policy.RequireRole(Roles.Histotech, Roles.Surgeon))
        .AddPolicy(SeeCase, policy => policy.RequireRole(Roles.Histotech, Roles.Surgeon))
        .AddPolicy(Surgeon, policy => policy.RequireRole(Roles.Surgeon))
        .AddPolicy(Administrator, policy => policy.RequireRole(Roles.Administrator))
        .AddPolicy(SeeOpenings, policy => policy.RequireRole(Roles.Surgeon, Roles.Administrator))
        .AddPolicy(SeeRetention, policy => policy.RequireRole(Roles.Manager, Roles.Administrator))
        .AddPolicy(SeeAudit, policy => policy.RequireRole(Roles.Manager, Roles.Surgeon))
        .AddPolicy(Manager, policy => policy.RequireRole(Roles.Manager))
        .AddPolicy(SeeFollowUp, policy => policy.RequireRole(Roles.Manager, Roles.Surgeon))
        .AddPolicy(Person, policy => policy.RequireAssertion(who => CurrentPerson.From(who.User) is { IsApiToken: false }));
}
