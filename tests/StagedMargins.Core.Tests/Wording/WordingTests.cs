using System.Globalization;
using System.Reflection;
using System.Resources;
using StagedMargins.Core.Care;
using StagedMargins.Core.Entries.Accounts;
using StagedMargins.Core.Intake;
using StagedMargins.Core.Mapping;
using StagedMargins.Core.Risk;
using StagedMargins.Core.Wording;

namespace StagedMargins.Core.Tests.Wording;

/// <summary>The resource files hold each word that the code asks for, and no other.</summary>
public sealed class WordingTests
{
    // What these say needs places or numbers: whole sentences, not terms.
    private static readonly Type[] SaidInSentences = [typeof(AlertCode), typeof(PendingStepKind), typeof(WaitsFor), typeof(RiskPromptCode), typeof(RiskPromptFact), typeof(AnaestheticLevel)];

    // What stands in entries alone and is told nobody in words.
    private static readonly Type[] Untold = [typeof(CredentialKind)];

    private static readonly IReadOnlyDictionary<string, string> TermsKept = Kept(typeof(Terms));
    private static readonly IReadOnlyDictionary<string, string> SentencesKept = Kept(typeof(Sentences));

    [Fact]
    public void Every_member_of_an_enum_site_and_tumour_has_its_term_and_no_term_is_left_over()
    {
        string[] asked =
        [
            .. typeof(Terms).GetProperties().Select(property => property.Name),
            .. typeof(Terms).Assembly.GetExportedTypes().Where(type => type.IsEnum).Except([.. SaidInSentences, .. Untold])
                .SelectMany(type => type.GetEnumNames().Select(member => $"{type.Name}.{member}")),
            .. Sites.All.Select(site => $"Site.{site.Code}"),
            .. TumourTypes.All.Select(type => $"TumourType.{type.Code}"),
        ];
        TermsKept.Keys.Order(StringComparer.Ordinal).ShouldBe(asked.Order(StringComparer.Ordinal));
        TermsKept.Values.ShouldAllBe(word => word.Trim() == word && word.Length > 0);
    }

    [Fact]
    public void A_term_is_written_as_in_the_middle_of_a_sentence()
    {
        Terms.Of(CaseState.TumourOutstanding).ShouldBe("tumour outstanding");
        Terms.Of(CaseState.TumourOutstanding).Capitalised().ShouldBe("Tumour outstanding");
        Terms.Of(AnatomicalPlane.SubcutaneousFat).ShouldBe("subcutaneous fat");
        Terms.OfSite("C44.2").ShouldBe("external ear");
        Terms.OfTumour("8090/3").ShouldBe("basal cell carcinoma");
        Should.Throw<MissingManifestResourceException>(() => Terms.Of(AlertCode.LeftBehind));
        Should.Throw<MissingManifestResourceException>(() => Terms.OfSite("C99.9"));
    }

    [Fact]
    public void Every_sentence_is_there_takes_as_many_parts_as_its_text_and_none_is_left_over()
    {
        var asked = typeof(Sentences).GetMethods(BindingFlags.Public | BindingFlags.Static | BindingFlags.DeclaredOnly);
        SentencesKept.Keys.Order(StringComparer.Ordinal).ShouldBe(asked.Select(NameOf).Order(StringComparer.Ordinal));
        foreach (var method in asked)
        {
            var parts = method.GetParameters().Select((parameter, i) => parameter.ParameterType == typeof(int) ? (object)(100 + i) : $"part {i}").ToArray();
            var said = (string)method.Invoke(null, parts)!;
            parts.ShouldAllBe(part => said.Contains(part.ToString()!, StringComparison.Ordinal), NameOf(method));
            said.ShouldNotContain("{", Case.Sensitive, NameOf(method));
        }
    }

    private static string NameOf(MethodInfo method) => method.Name.StartsWith("get_", StringComparison.Ordinal) ? method.Name[4..] : method.Name;

    private static Dictionary<string, string> Kept(Type type) => new ResourceManager(type)
        .GetResourceSet(CultureInfo.InvariantCulture, createIfNotExists: true, tryParents: true)!
        .Cast<System.Collections.DictionaryEntry>()
        .ToDictionary(entry => (string)entry.Key, entry => (string)entry.Value!);
}
