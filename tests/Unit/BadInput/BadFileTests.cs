using System.Text;
using Locum.Diagnostics;
using Locum.Syntax;
using Xunit;

namespace Locum.Tests.Unit.BadInput;

public sealed class BadFileTests : IDisposable
{
    private const string Good = "locum: 1\nmodule: good\nhazard: none\nbuses: {body: {rate: 500 kbit/s}}\nframes: {F: {id: 1, length: 1, every: 1 s}}\n";

    private readonly TempFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_missing_file_is_named() => Assert.Equal("LC0101", Descriptions.Ids(Findings.Of(In("none.yaml"))));

    [Fact]
    public void A_folder_without_a_project_is_no_description() => Assert.Equal("LC0101", Descriptions.Ids(Findings.Of(_folder.Path())));

    [Theory]
    [InlineData("")]
    [InlineData("a\0b.yaml")]
    public void What_is_no_path_is_a_finding(string path) => Assert.Equal("LC0101", Descriptions.Ids(Findings.Of(path)));

    [Fact]
    public void A_path_that_is_far_too_long_is_a_finding() => Assert.Equal("LC0101", Descriptions.Ids(Findings.Of(In(new string('x', 5_000)))));

    [Fact]
    public void A_path_through_a_file_is_a_finding() => Assert.Equal("LC0101", Descriptions.Ids(Findings.Of(Path.Combine(Write("f.yaml", Good), "g.yaml"))));

    // An administrator may read everything, so then the file is simply read.
    [Fact]
    public void A_file_without_permission_is_a_finding()
    {
        var path = Write("secret.yaml", Good);
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(path, UnixFileMode.None);

        Assert.Equal(OperatingSystem.IsWindows() || Environment.IsPrivilegedProcess ? "" : "LC0101", Descriptions.Ids(Findings.Of(path)));
    }

    // A device does not tell its length and never ends.
    [Fact]
    public void An_endless_file_is_too_large() =>
        Assert.Equal(File.Exists("/dev/zero") ? "LC0106" : "LC0101", Descriptions.Ids(Findings.Of("/dev/zero")));

    [Fact]
    public void The_limit_of_the_size_is_exact()
    {
        Assert.Empty(Findings.Of(Write("most.yaml", Good + new string('#', SyntaxReader.MaxBytes - Good.Length))));
        Assert.Equal("LC0106", Descriptions.Ids(Findings.Of(Write("more.yaml", Good + new string('#', SyntaxReader.MaxBytes - Good.Length + 1)))));
    }

    [Theory]
    [InlineData("\u00A0 ü", "windows-1252-like")]
    [InlineData("text", "utf-16")]
    [InlineData("text", "utf-32")]
    public void Other_encodings_are_refused(string text, string encoding)
    {
        var bytes = encoding switch
        {
            "utf-16" => Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(Good + text)),
            "utf-32" => Encoding.UTF32.GetPreamble().Concat(Encoding.UTF32.GetBytes(Good + text)),
            _ => Encoding.Latin1.GetBytes(Good + text),
        };
        File.WriteAllBytes(In("encoded.yaml"), [.. bytes]);

        Assert.Equal("LC0107", Descriptions.Ids(Findings.Of(In("encoded.yaml"))));
    }

    // UTF-8 that RFC 3629 forbids: an overlong form, half a surrogate pair, a cut character, a byte that never occurs.
    [Theory]
    [InlineData("C080")]
    [InlineData("EDA080")]
    [InlineData("E282")]
    [InlineData("FF")]
    public void Broken_utf8_is_refused(string hex)
    {
        File.WriteAllBytes(In("broken.yaml"), [.. Encoding.UTF8.GetBytes(Good), .. Convert.FromHexString(hex)]);

        Assert.Equal("LC0107", Descriptions.Ids(Findings.Of(In("broken.yaml"))));
    }

    [Theory]
    [InlineData("a: 1\nb: \0\n")]
    [InlineData("a: 1\r\nb: \0")]
    [InlineData("a: 1\u0085b: \0")]
    public void A_zero_byte_is_named_with_its_place(string text)
    {
        var finding = Assert.Single(Findings.Of(Write("zero.yaml", text)));

        Assert.Equal((Codes.NotUtf8, 2, 4), (finding.Code, finding.Span.Line, finding.Span.Column));
    }

    [Theory]
    [InlineData("\uFEFF", "\n")]
    [InlineData("", "\r\n")]
    [InlineData("\uFEFF", "\r\n")]
    [InlineData("", "\r")]
    public void Byte_order_marks_and_other_line_ends_are_harmless(string start, string end) =>
        Assert.Empty(Findings.Of(Write("ends.yaml", start + Good.ReplaceLineEndings(end))));

    [Theory]
    [InlineData("with space.yaml")]
    [InlineData("ünïcode 扉 🚪.yaml")]
    [InlineData("quote'\".yaml")]
    [InlineData("-x")]
    [InlineData("\u001b[31m\u202Ered.yaml")]
    public void File_names_may_be_odd(string name)
    {
        Assert.Empty(Findings.Of(Write(name, Good)));
        Assert.Single(Findings.Of(Write(name, "")));
    }

    private string In(string name) => _folder.Path(name);

    private string Write(string name, string text)
    {
        File.WriteAllText(In(name), text, new UTF8Encoding(false));
        return In(name);
    }
}
