using StagedMargins.Web.Tests.Testing;
using Xunit.Sdk;
using Xunit.v3;

[assembly: TestCollectionOrderer(typeof(LongestFirst))]

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Marks a class whose tests take so long that the run would wait for them alone if they were begun last.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class RunsFirstAttribute : Attribute;

/// <summary>Begins the classes that take longest before all others.</summary>
public sealed class LongestFirst : ITestCollectionOrderer
{
    private static readonly List<string> First =
        [.. typeof(LongestFirst).Assembly.GetTypes().Where(type => type.IsDefined(typeof(RunsFirstAttribute), inherit: true)).Select(type => type.FullName!)];

    /// <inheritdoc/>
    public IReadOnlyCollection<TTestCollection> OrderTestCollections<TTestCollection>(IReadOnlyCollection<TTestCollection> testCollections)
        where TTestCollection : ITestCollection =>
        [.. testCollections.OrderByDescending(collection => First.Exists(name => collection.TestCollectionDisplayName.Contains(name, StringComparison.Ordinal)))];
}
