using ArchUnitNET.Fluent;
using ArchUnitNET.Fluent.Slices;
using ArchUnitNET.Loader;
using StagedMargins.Core.Mapping;
using StagedMargins.Drawing;
using StagedMargins.Storage;
using StagedMargins.Web.Hosting;
using static ArchUnitNET.Fluent.ArchRuleDefinition;

namespace StagedMargins.Web.Tests.Architecture;

/// <summary>Which part may use which: Web → Storage, Drawing → Core, and no feature another.</summary>
public sealed class DependencyTests
{
    private const string Features = @"^StagedMargins\.Web\.Features\.";
    private const string Shared = @"^StagedMargins\.Web\.(AccessLog|Backup|Contract|Hosting|Identity|Problems|Writing)(\.|$)";

    private static readonly ArchUnitNET.Domain.Architecture Web = new ArchLoader().LoadAssemblies(typeof(Policies).Assembly).Build();

    [Fact]
    public void Core_uses_geometry_and_statistics_and_no_project() =>
        PackagesOf(typeof(SurgicalCase).Assembly).ShouldBe(["MathNet.Numerics", "NetTopologySuite"]);

    [Fact]
    public void Drawing_and_storage_use_no_project_but_core()
    {
        ProjectsOf(typeof(MapPicture).Assembly).ShouldBe(["StagedMargins.Core"]);
        ProjectsOf(typeof(ClinicContext).Assembly).ShouldBe(["StagedMargins.Core"]);
    }

    [Fact]
    public void No_feature_uses_another() =>
        Hold(SliceRuleDefinition.Slices().Matching("StagedMargins.Web.Features.(*)").Should().NotDependOnEachOther());

    [Fact]
    public void What_features_share_uses_no_feature() =>
        Hold(Types().That().ResideInNamespaceMatching(Shared).Should().NotDependOnAny(Types().That().ResideInNamespaceMatching(Features)));

    private static void Hold(IArchRule rule) =>
        rule.Evaluate(Web).Where(result => !result.Passed).Select(result => result.Description).ShouldBeEmpty();

    private static IEnumerable<string> ProjectsOf(System.Reflection.Assembly assembly) =>
        PackagesOf(assembly).Where(name => name.StartsWith("StagedMargins", StringComparison.Ordinal));

    private static IEnumerable<string> PackagesOf(System.Reflection.Assembly assembly) =>
        assembly.GetReferencedAssemblies().Select(name => name.Name!).Where(name => !name.StartsWith("System", StringComparison.Ordinal)).Order(StringComparer.Ordinal);
}
