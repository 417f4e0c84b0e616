using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;
using StagedMargins.Core;

namespace StagedMargins.Storage;

/// <summary>How values of the domain stand in columns.</summary>
public static class Conversions
{
    /// <summary>Keeps a time as its instant and offset.</summary>
    public static void Time<T>(this EntityTypeBuilder<T> entity, string name)
        where T : class =>
        entity.ComplexProperty<ClinicalTime>(name, time =>
        {
            time.Property(t => t.Utc).HasColumnName(SnakeCase(name));
            time.Property(t => t.OffsetMinutes).HasColumnName($"{SnakeCase(name)}_offset");
        });

    private static string SnakeCase(string name) =>
        string.Concat(name.Select((c, i) => char.IsUpper(c) && i > 0 ? $"_{char.ToLowerInvariant(c)}" : $"{char.ToLowerInvariant(c)}"));

    /// <summary>A word of the domain as text.</summary>
    public sealed class WordConverter<T>() : ValueConverter<T, string>(value => EnumNames<T>.Of(value), word => EnumNames<T>.Parse(word))
        where T : struct, Enum;

    /// <summary>An instant as UTC ticks, for a database without a type for it.</summary>
    public sealed class UtcTicksConverter() : ValueConverter<DateTime, long>(utc => utc.Ticks, ticks => new DateTime(ticks, DateTimeKind.Utc));
}
