using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Storage;
using StagedMargins.Storage.Clinics;
using StagedMargins.Storage.People;
using StagedMargins.Web.Hosting;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>A further clinic in the same record, which the service itself has no route to make.</summary>
public static class OtherClinic
{
    /// <summary>A surgeon of a clinic made for the occasion.</summary>
    public static async Task<Caller> SurgeonAsync(TestClinic beside)
    {
        await using var scope = beside.Host.Services.CreateAsyncScope();
        var db = scope.ServiceProvider.GetRequiredService<ClinicContext>();
        var clinic = new Clinic { Id = Guid.CreateVersion7(), Name = "Another clinic of the tests" };
        db.Add(clinic);
        await db.SaveChangesAsync();
        var email = $"s{Guid.NewGuid():N}@other.invalid";
        await FirstStart.AddPersonAsync(scope.ServiceProvider, clinic.Id, email, "Someone elsewhere", [Roles.Surgeon], TestClinic.Password);
        return await beside.Stranger.SignInAsync(email, TestClinic.Password);
    }
}
