using System.IO.Compression;
using System.Xml.Linq;
using Xunit;

namespace Locum.Tests.Architecture;

/// <summary>The tool package: made from what is built, installed from its folder alone, and run.</summary>
public sealed class ToolPackageTests
{
    private static readonly string s_version = File.ReadAllText(RepoRoot.Path("shared", "version")).Trim();

    // The tests run from artifacts/bin/Locum.Tests/CONFIGURATION; the generator beside them has the same.
    private static readonly string s_configuration = Path.GetFileName(Path.TrimEndingDirectorySeparator(AppContext.BaseDirectory));

    [Fact]
    public void The_package_installs_without_a_registry_and_checks_the_demo()
    {
        using var folder = new TempFolder();
        Shell.Must("dotnet", ["pack", RepoRoot.Path("generator"), "--no-build", "--configuration", s_configuration, "--output", folder.Path("package"), "--nologo"]);
        var package = folder.Path("package", $"Locum.{s_version}.nupkg");
        CheckMetadata(package);

        // No source but the folder: nothing else can be asked.
        File.WriteAllText(folder.Path("nuget.config"), "<configuration><packageSources><clear /></packageSources></configuration>\n");
        Shell.Must("dotnet", ["tool", "install", "Locum", "--tool-path", folder.Path("tool"), "--add-source", folder.Path("package"), "--configfile", folder.Path("nuget.config")], folder.Path());
        var tool = folder.Path("tool", OperatingSystem.IsWindows() ? "locum.exe" : "locum");
        Assert.StartsWith(s_version, Shell.Must(tool, ["--version"], folder.Path()), StringComparison.Ordinal);
        Assert.Contains("no findings", Shell.Must(tool, ["check", RepoRoot.Path("projects", "depot-loco")], folder.Path()), StringComparison.Ordinal);
        Shell.Must(tool, ["generate", RepoRoot.Path("projects", "depot-loco"), "--out", folder.Path("out")], folder.Path());
        Assert.True(File.Exists(folder.Path("out", "cab", "Makefile")));
    }

    private static void CheckMetadata(string package)
    {
        using var zip = ZipFile.OpenRead(package);
        using var stream = zip.GetEntry("Locum.nuspec")!.Open();
        var facts = XDocument.Load(stream).Root!.Elements().Single().Elements().ToDictionary(e => e.Name.LocalName, e => e.Value);
        Assert.Equal(("Locum", s_version, "MIT", "README.md"), (facts["id"], facts["version"], facts["license"], facts["readme"]));
        Assert.NotEqual("", facts["description"]);
        Assert.NotNull(zip.GetEntry("README.md"));
    }
}
