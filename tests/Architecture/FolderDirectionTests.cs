using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;
using Xunit;

namespace Locum.Tests.Architecture;

/// <summary>Data flows one way through the generator's folders; see DEVELOPERS.md for the picture.</summary>
public sealed class FolderDirectionTests
{
    /// <summary>What each folder may use. A folder that is not listed may use nothing.</summary>
    private static readonly Dictionary<string, string[]> s_mayUse = new()
    {
        ["Text"] = [],
        ["Diagnostics"] = ["Text"],
        ["Syntax"] = ["Text", "Diagnostics"],
        ["Wire"] = [],
        ["Parts"] = [],
        ["Formulas"] = ["Text", "Diagnostics"],
        ["Protection"] = ["Wire"],
        ["Model"] = ["Text", "Wire", "Formulas"],
        ["Binding"] = ["Text", "Diagnostics", "Syntax", "Wire", "Parts", "Protection", "Formulas", "Model"],
        ["Schema"] = ["Text", "Diagnostics", "Syntax", "Wire", "Protection", "Binding"],
        ["Validation"] = ["Text", "Diagnostics", "Wire", "Parts", "Formulas", "Model"],
        ["Boards"] = ["Text", "Diagnostics", "Syntax", "Binding"],
        ["Planning"] = ["Text", "Diagnostics", "Wire", "Model", "Binding", "Boards"],
        ["Capture"] = ["Text", "Diagnostics", "Wire", "Model", "Binding"],
        ["Simulation"] = ["Wire", "Formulas", "Model", "Planning"],
        ["Traces"] = ["Wire", "Capture", "Simulation"],
        ["Rendering"] = ["Text", "Diagnostics", "Wire", "Formulas", "Model", "Binding", "Boards", "Planning"],
        ["Proving"] = ["Text", "Wire", "Model", "Boards", "Planning", "Simulation", "Rendering"],
        ["Reporting"] = ["Text", "Diagnostics", "Wire", "Capture", "Model", "Planning", "Simulation"],
        ["Formatting"] = ["Text", "Diagnostics", "Syntax", "Schema"],
        ["Inference"] = ["Wire", "Protection", "Capture"],
        ["Drafting"] = ["Text", "Diagnostics", "Binding", "Wire", "Reporting", "Capture", "Formatting", "Inference"],
        ["Comparing"] = ["Diagnostics", "Wire", "Capture", "Inference", "Reporting"],
        ["Auditing"] = ["Text", "Diagnostics", "Wire", "Protection", "Formulas", "Model", "Planning", "Simulation", "Capture", "Inference", "Reporting"],
        ["Budgeting"] = ["Text", "Diagnostics", "Syntax", "Wire", "Model", "Planning", "Simulation", "Capture", "Inference", "Reporting"],
        ["Benching"] = ["Diagnostics", "Model", "Parts", "Reporting"],
        ["Pipeline"] = ["Text", "Diagnostics", "Syntax", "Model", "Binding", "Validation", "Planning", "Rendering"],
        ["Reviewing"] = ["Text", "Diagnostics", "Syntax", "Wire", "Model", "Validation", "Reporting", "Pipeline"],
        ["Pages"] = ["Text", "Diagnostics", "Syntax", "Wire", "Model", "Boards", "Planning", "Simulation", "Rendering", "Reporting", "Inference", "Auditing", "Budgeting", "Benching", "Reviewing"],
        ["Cli"] = ["Pages", "Capture", "Inference", "Comparing", "Auditing", "Budgeting", "Benching", "Reviewing", "Text", "Diagnostics", "Model", "Binding", "Boards", "Planning", "Simulation", "Traces", "Rendering", "Proving", "Reporting", "Pipeline", "Schema", "Formatting", "Syntax", "Wire", "Drafting"],
    };

    /// <summary>Libraries that only one folder may see.</summary>
    private static readonly Dictionary<string, string[]> s_libraries = new()
    {
        ["YamlDotNet"] = ["Syntax"],
        ["Microsoft.CodeAnalysis"] = ["Formulas"],
        ["Scriban"] = ["Rendering"],
        ["System.CommandLine"] = ["Cli"],
        ["Spectre.Console"] = ["Reporting", "Cli"],
    };

    public static TheoryData<string> Folders => [.. Directory.GetDirectories(RepoRoot.Path("generator")).Select(d => Path.GetFileName(d)!).Where(d => d is not ("bin" or "obj")).Order()];

    [Theory]
    [MemberData(nameof(Folders))]
    public void Folder_uses_only_what_stands_above_it(string folder)
    {
        Assert.True(s_mayUse.ContainsKey(folder), $"generator/{folder} is not in the list of folders");
        var files = Directory.GetFiles(RepoRoot.Path("generator", folder), "*.cs", SearchOption.AllDirectories);
        Assert.NotEmpty(files);
        foreach (var file in files)
            foreach (var used in Names(File.ReadAllText(file)))
                Check(folder, Path.GetRelativePath(RepoRoot.Path(), file), used);
    }

    [Theory]
    [InlineData("using Locum.Rendering;", "Locum.Rendering")]
    [InlineData("class C { Locum.Rendering.CText? x; }", "Locum.Rendering.CText")]
    [InlineData("class C { int M() => Scriban.Template.Parse(\"\").Page.Span.Length; }", "Scriban.Template")]
    public void Uses_are_found_in_usings_and_in_qualified_names(string code, string expected) =>
        Assert.Contains(expected, Names(code));

    private static void Check(string folder, string file, string used)
    {
        if (used.StartsWith("Locum.", StringComparison.Ordinal))
        {
            var target = used.Split('.')[1];
            if (s_mayUse.ContainsKey(target))
                Assert.True(target == folder || s_mayUse[folder].Contains(target), $"{file} uses {used}; {folder} may use {string.Join(", ", s_mayUse[folder])}");
        }
        foreach (var (library, folders) in s_libraries)
            if (used == library || used.StartsWith(library + ".", StringComparison.Ordinal))
                Assert.True(folders.Contains(folder), $"{file} uses {used}; only {string.Join(" and ", folders)} may");
    }

    private static IEnumerable<string> Names(string code)
    {
        var root = CSharpSyntaxTree.ParseText(code).GetRoot();
        foreach (var node in root.DescendantNodes())
        {
            switch (node)
            {
                case UsingDirectiveSyntax { Name: { } name }:
                    yield return name.ToString();
                    break;
                case QualifiedNameSyntax qualified:
                    yield return qualified.ToString();
                    break;
                case MemberAccessExpressionSyntax access:
                    yield return access.ToString();
                    break;
                default:
                    break;
            }
        }
    }
}
