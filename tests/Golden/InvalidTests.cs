using Locum.Diagnostics;
using Locum.Tests.Regression.RunawayOutput;
using Xunit;

namespace Locum.Tests.Golden;

/// <summary>
/// Wrong descriptions beside the findings they must give. To accept new output run the tests with LOCUM_ACCEPT=1:
/// the expected files are rewritten, and the tests fail once to say so.
/// </summary>
public class InvalidTests
{
    private const string Kind = "invalid";

    public static TheoryData<string> Cases => [.. Corpus.Cases(Kind)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_wrong_description_gives_exactly_the_expected_findings(string name)
    {
        var actual = Corpus.Print(Kind, name);
        var expected = ExpectedFile(name);
        if (Environment.GetEnvironmentVariable("LOCUM_ACCEPT") is "1")
        {
            File.WriteAllText(expected, actual);
            Assert.Fail($"accepted {Path.GetFileName(expected)}; run again without LOCUM_ACCEPT");
        }
        Assert.True(File.Exists(expected), $"{expected} is missing; accept it with LOCUM_ACCEPT=1");
        Assert.Equal(File.ReadAllText(expected), actual);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_wrong_description_gives_at_least_one_error_or_warning(string name) =>
        Assert.Contains(Corpus.Load(Kind, name).Diagnostics.Sorted, d => d.Severity is not Severity.Note);

    [Fact]
    public void Every_kind_of_finding_is_expected_somewhere()
    {
        var all = string.Concat(Corpus.Cases(Kind).Select(c => File.ReadAllText(ExpectedFile(c)))) + CaptureTests.AllExpected() + RunawayOutputTests.Expected;

        Assert.All(Codes.All, code => Assert.Contains($" {code.Id}: ", all));
    }

    [Fact]
    public void Every_expected_file_belongs_to_a_case()
    {
        var known = Corpus.Cases(Kind).Select(ExpectedFile);

        Assert.Equal(known.Order(), Directory.EnumerateFiles(Corpus.Folder(Kind), "*expected.txt", SearchOption.AllDirectories).Order());
    }

    private static string ExpectedFile(string name)
    {
        var path = Path.Combine(Corpus.Folder(Kind), name);
        return Directory.Exists(path) ? Path.Combine(path, "expected.txt") : Path.ChangeExtension(path, ".expected.txt");
    }
}
