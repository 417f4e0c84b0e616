namespace StagedMargins.Web.Tests.Testing;

/// <summary>A record of which a backup takes a while.</summary>
public static class LongRecord
{
    /// <summary>Fills a table that nobody in the clinic counts, once.</summary>
    public static Task GrowAsync(this TestDatabase database) => database.ExecuteAsync("""
        WITH RECURSIVE numbers(n) AS (SELECT 3000 UNION ALL SELECT n + 1 FROM numbers WHERE n < 800000)
        INSERT INTO case_number_counters (clinic_id, year, last) SELECT clinics.id, n, 0 FROM numbers, clinics WHERE NOT EXISTS (SELECT 1 FROM case_number_counters WHERE year > 3000)
        """);
}
