using System.Text.Json.Nodes;
using Locum.Binding;
using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Schema;
using Locum.Syntax;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Schema;

/// <summary>The language's table knows exactly the keys, words and ranges that the binders know.</summary>
public sealed class SchemaKeyTests
{
    [Fact]
    public void Every_key_that_a_binder_asks_for_is_in_the_table_and_the_other_way_round()
    {
        var asked = new HashSet<(string What, string Key)>();
        MappingReader.Watch.Value = (what, key) => asked.Add((what, key));
        foreach (var file in Corpus())
            Loader.Load(file);
        MappingReader.Watch.Value = null;
        asked.RemoveWhere(a => a.What is "'controllers'" or "'memory'" or "'supply'" or "'start'"); // facts of built-in boards
        var open = Language.Sections.Where(s => s.Open is not null).Select(s => s.What).ToHashSet();
        var board = new HashSet<string> { "locum board", "summary", "clock", "controllers", "memory", "supply", "start", "pins", "reserved", "defaults", "choices", "pulls", "files", "headers", "extras", "templates" };
        var table = Language.Sections.Where(s => s.What.Length > 0).SelectMany(s => s.Keys.Select(k => (s.What, k.Name))).ToHashSet();
        var unknown = asked.Where(a => !table.Contains(a) && !open.Contains(a.What) && !(a.What is "a board" && board.Contains(a.Key))).ToList();
        Assert.True(unknown.Count is 0, "add these keys to generator/Schema/*Sections.cs: " + string.Join(", ", unknown));
        var unasked = table.Where(t => !asked.Contains(t)).ToList();
        Assert.True(unasked.Count is 0, "no binder asks for these keys of generator/Schema/*Sections.cs: " + string.Join(", ", unasked));
    }

    [Fact]
    public void Words_and_ranges_in_the_table_are_those_of_the_binders()
    {
        var compared = 0;
        foreach (var file in Corpus())
        {
            var text = File.ReadAllText(file);
            var root = EditorView.Parse(file)!;
            if (Language.RootOf(root) == Language.Files[0].Root)
                continue; // the modules of a project are read from beside it
            foreach (var (shape, scalar) in Places(root, new Mapping(Language.RootOf(root))))
                compared += Compare(shape, scalar, text);
        }
        Assert.True(compared > 300, $"only {compared} places were compared");
    }

    [Fact]
    public void The_schema_knows_every_rule_for_checksums() =>
        Assert.All(ChecksumRuleBinder.AllNames, name => Assert.Contains($"\"{name}\"", SchemaDocument.Text(), StringComparison.Ordinal));

    [Fact]
    public void Examples_and_defaults_fit_their_keys()
    {
        foreach (var key in Language.Sections.SelectMany(s => s.Keys))
        {
            foreach (var text in new[] { key.Example, key.Default }.OfType<string>())
                Assert.True(Language.For(key.Shape, EditorView.ParseText(text)) is not null, $"{key.Name}: {text}");
            Assert.InRange(key.Description.Length, 5, 110);
            Assert.EndsWith(".", key.Description, StringComparison.Ordinal);
        }
    }

    private static int Compare(Shape shape, ScalarNode scalar, string text)
    {
        if (shape is not (Words or Whole))
            return 0;
        // Behind the maximum of what the reader can hold, so that a number is out of range everywhere.
        var wrong = shape is Whole ? "-9223372036854775807" : "zzzzzzzzzzz";
        var found = Check(Replace(text, scalar.Span, wrong)).Where(d => d.Span.Line == scalar.Span.Line && d.Span.Column == scalar.Span.Column).ToList();
        if (shape is Words { List: ["1"] } || found is not [{ Mend: { } mend, Code: var code }])
            return 0;
        if (shape is Words words && mend.StartsWith("use one of: ", StringComparison.Ordinal))
        {
            var known = mend["use one of: ".Length..].Split(", ").Order();
            // What a condition compares with depends on the name before it.
            if (words.List.Contains("received"))
                Assert.All(known, word => Assert.Contains(word, words.List));
            else
                Assert.Equal(known, words.List.Order());
        }
        else if (shape is Whole whole && code == Codes.OutOfRange && mend.StartsWith("choose a value from ", StringComparison.Ordinal))
            Assert.True(IsRange(whole, mend), $"{mend}; the table has {whole.Min} to {whole.Max}");
        else
            return 0;
        return 1;
    }

    // Some ranges depend on other keys: CRCs on their width, masks on the identifier, data IDs on the profile. The table has the widest.
    private static bool IsRange(Whole whole, string mend)
    {
        var start = $"choose a value from {whole.Min} to ";
        return mend.StartsWith(start, StringComparison.Ordinal)
            && long.TryParse(mend[start.Length..], out var most)
            && (most == whole.Max || (most < whole.Max && whole.Max is uint.MaxValue or 0x1FFF_FFFF));
    }

    private static IReadOnlyList<Diagnostic> Check(string text)
    {
        var bag = new DiagnosticBag();
        var source = new SourceText("test.yaml", text);
        var root = SyntaxReader.Read(source, bag)!;
        if (Language.RootOf(root).Name is "stimulus")
            StimulusBinder.Bind(root, null, null, bag);
        else if (Language.RootOf(root).Name is "layout")
            LayoutBinder.Bind(source, root, bag);
        else
            ModuleBinder.Bind(source, root, bag);
        return bag.Sorted;
    }

    private static string Replace(string text, Span span, string by)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n');
        var line = lines[span.Line - 1];
        lines[span.Line - 1] = line[..(span.Column - 1)] + by + (span.EndLine == span.Line ? line[(span.EndColumn - 1)..] : "");
        return string.Join('\n', lines);
    }

    private static IEnumerable<(Shape Shape, ScalarNode Node)> Places(SyntaxNode node, Shape? shape)
    {
        switch (Language.For(shape, node), node)
        {
            case ({ } found, ScalarNode scalar):
                yield return (found, scalar);
                break;
            case (Mapping { Section: var section }, MappingNode mapping):
                foreach (var place in mapping.Entries.SelectMany(e => Places(e.Value, section.Find(e.Key.Value)?.Shape ?? section.Open)))
                    yield return place;
                break;
            case (MapOf map, MappingNode mapping):
                foreach (var place in mapping.Entries.SelectMany(e => Places(e.Value, map.Value)))
                    yield return place;
                break;
            case (ListOf list, SequenceNode sequence):
                foreach (var place in sequence.Items.SelectMany(i => Places(i, list.Item)))
                    yield return place;
                break;
            default:
                break;
        }
    }

    private static IEnumerable<string> Corpus() => SchemaCorpusTests.Files("tests/Golden/valid").Concat(SchemaCorpusTests.Files("projects")).Select(f => RepoRoot.Path(f.Split('/')));
}
