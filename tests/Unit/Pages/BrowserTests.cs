using System.Text.Json;
using Xunit;

namespace Locum.Tests.Unit.Pages;

/// <summary>
/// Pages in headless Chromium, under axe-core (the rules of WCAG 2 and its best practices) and html-validate (the
/// content model of the HTML standard).
/// </summary>
public sealed class BrowserTests(BrowserTests.Looks looks) : IClassFixture<BrowserTests.Looks>
{
    private const long MostBytes = 2_000_000;

    [Theory]
    [InlineData("demo")]
    [InlineData("one")]
    [InlineData("many")]
    [InlineData("hostile")]
    public void A_page_loads_by_itself_and_is_sound(string name)
    {
        var look = looks.Of(name);
        Assert.Empty(Texts(look, "console"));
        Assert.Empty(Texts(look, "stillConsole"));
        Assert.Empty(Texts(look, "requests"));
        Assert.Empty(Texts(look, "axeLight"));
        Assert.Empty(Texts(look, "axeDark"));
        Assert.Empty(looks.Invalid(name));
        Assert.False(look.GetProperty("wider").GetBoolean(), "the page is wider than 1280 px");
        Assert.False(look.GetProperty("widerNarrow").GetBoolean(), "the page is wider than 390 px");
        Assert.NotEqual(look.GetProperty("schemes")[0].GetString(), look.GetProperty("schemes")[1].GetString());
        Assert.True(new FileInfo(looks.Page(name)).Length < MostBytes, $"{new FileInfo(looks.Page(name)).Length} bytes");
    }

    [Fact]
    public void Text_of_a_description_stays_text()
    {
        var made = looks.Of("hostile").GetProperty("made");
        Assert.Equal(Samples.Hostile.Replace('\u202e', '·'), made.GetProperty("heading").GetString());
        Assert.Equal(1, made.GetProperty("scripts").GetInt32());
        Assert.Equal(0, made.GetProperty("foreign").GetInt32());
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("one")]
    [InlineData("many")]
    public void Buttons_and_keys_zoom(string name)
    {
        var zoom = looks.Of(name).GetProperty("zoom");
        string View(string step) => zoom.GetProperty(step).GetProperty("view").GetString()!;
        string Lanes(string step) => zoom.GetProperty(step).GetProperty("lanes").GetString()!;
        Assert.NotEqual("", Lanes("button all").Replace("|", "", StringComparison.Ordinal).Replace(";", "", StringComparison.Ordinal));
        foreach (var (before, after) in new[] { ("button all", "button in"), ("button in", "button later"), ("button all", "key in"), ("key in", "key later"), ("key later", "key out") })
        {
            Assert.NotEqual(View(before), View(after));
            Assert.NotEqual(Lanes(before), Lanes(after));
        }
        Assert.Equal(Lanes("button all"), Lanes("key all"));
        Assert.Equal(View("button all"), View("key all"));
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("many")]
    public void The_keyboard_reaches_everything(string name)
    {
        var tabbing = looks.Of(name).GetProperty("tabbing");
        Assert.True(tabbing.GetProperty("expected").GetInt32() > 20);
        Assert.Equal(tabbing.GetProperty("expected").GetInt32(), tabbing.GetProperty("reached").GetInt32());
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("one")]
    public void Without_script_and_on_paper_everything_is_there(string name)
    {
        var still = looks.Of(name).GetProperty("still");
        Assert.Equal(0, still.GetProperty("shownTools").GetInt32());
        Assert.True(still.GetProperty("tables").GetInt32() >= 4);
        Assert.True(still.GetProperty("drawings").GetInt32() >= 3);
        var print = looks.Of(name).GetProperty("print");
        Assert.Equal(print.GetProperty("allTables").GetInt32(), print.GetProperty("tables").GetInt32());
        Assert.True(print.GetProperty("tables").GetInt32() > still.GetProperty("tables").GetInt32());
    }

    [Fact]
    public void A_broken_page_is_caught()
    {
        using var folder = new TempFolder();
        var good = File.ReadAllText(looks.Page("one"));
        var broken = good
            .Replace("</main>", "<p id=\"content\"><img src=\"https://example.invalid/x.png\"><button></button></main>", StringComparison.Ordinal)
            .Replace("\"use strict\";", "\"use strict\"; alert(1);", StringComparison.Ordinal)
            .Replace("--soft: #55616d", "--soft: #e5e5e5", StringComparison.Ordinal);
        Assert.NotEqual(good, broken);
        File.WriteAllText(folder.Path("broken.html"), broken);
        var look = Looks.Look(folder.Path("broken.html"));
        // Changed style and script are not what the policy lets in, and neither is an image.
        Assert.Contains(Texts(look, "console"), t => t.Contains("Content Security Policy", StringComparison.Ordinal) && t.Contains("script", StringComparison.Ordinal));
        Assert.Contains(Texts(look, "console"), t => t.Contains("Content Security Policy", StringComparison.Ordinal) && t.Contains("image", StringComparison.Ordinal));
        Assert.Contains(Texts(look, "axeLight"), t => t.StartsWith("image-alt", StringComparison.Ordinal));
        Assert.Contains(Texts(look, "axeLight"), t => t.StartsWith("button-name", StringComparison.Ordinal));
        Assert.Equal(look.GetProperty("schemes")[0].GetString(), look.GetProperty("schemes")[1].GetString());
        var zoom = look.GetProperty("zoom");
        Assert.Equal(zoom.GetProperty("start").GetProperty("lanes").GetString(), zoom.GetProperty("key in").GetProperty("lanes").GetString());
        var invalid = Looks.Validate(folder.Path("broken.html"));
        Assert.Contains(invalid, e => e.Contains("no-dup-id", StringComparison.Ordinal));
    }

    private static IEnumerable<string> Texts(JsonElement look, string name) => look.GetProperty(name).EnumerateArray().Select(t => t.GetString()!);

    /// <summary>Pages, made and looked at once for all tests.</summary>
    public sealed class Looks : IDisposable
    {
        private readonly TempFolder _folder = new();
        private readonly Dictionary<string, string> _pages;
        private readonly Dictionary<string, JsonElement> _looks;
        private readonly IReadOnlyList<string> _invalid;

        public Looks()
        {
            var captures = RepoRoot.Path("projects", "depot-loco", "captures");
            _pages = new()
            {
                ["demo"] = Samples.ReportOf(_folder, "demo", RepoRoot.Path("projects", "depot-loco"), "--audit", Path.Combine(captures, "out-1.pcapng"), "--capture", Path.Combine(captures, "out-1.pcapng")),
                ["one"] = Samples.Report(_folder, "one", ManyFrames.Text(1)),
                ["many"] = Samples.Report(_folder, "many", ManyFrames.Text(200)),
                ["hostile"] = Samples.Report(_folder, "hostile", Samples.HostileText(), "--title", Samples.Hostile),
            };
            _looks = _pages.AsParallel().ToDictionary(p => p.Key, p => Look(p.Value, p.Key is "many" ? ["--brief"] : []));
            _invalid = Validate([.. _pages.Values]);
        }

        public string Page(string name) => _pages[name];

        public JsonElement Of(string name) => _looks[name];

        public IEnumerable<string> Invalid(string name) => _invalid.Where(e => e.StartsWith(_pages[name], StringComparison.Ordinal));

        public static JsonElement Look(string page, params string[] options) => Node("look.mjs", [page, .. options]);

        public static IReadOnlyList<string> Validate(params string[] pages) => [.. Node("valid.mjs", pages).EnumerateArray().Select(e => e.GetString()!)];

        public void Dispose() => _folder.Dispose();

        private static JsonElement Node(string script, params string[] arguments)
        {
            var folder = RepoRoot.Path("tests", "page");
            Assert.True(Directory.Exists(Path.Combine(folder, "node_modules")), "run 'npm ci' in tests/page, or tests/run, which does");
            return JsonDocument.Parse(Shell.Must("node", [script, .. arguments], folder)).RootElement;
        }
    }
}
