using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace StagedMargins.Storage.Cases;

/// <summary>The keys that lead every table of a case: the clinic first, so that tables can be split by it.</summary>
internal static class CaseKeys
{
    internal static void OfCase<T>(this EntityTypeBuilder<T> entity)
        where T : class
    {
        entity.Property<Guid>("ClinicId").ValueGeneratedNever();
        entity.Property<Guid>("CaseId").ValueGeneratedNever();
    }

    internal static void OfStage<T>(this EntityTypeBuilder<T> entity)
        where T : class
    {
        entity.OfCase();
        entity.Property<int>("StageNumber").ValueGeneratedNever();
    }
}
