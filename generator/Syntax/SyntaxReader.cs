using System.Text;
using Locum.Diagnostics;
using Locum.Text;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Locum.Syntax;

/// <summary>Turns YAML text into syntax nodes with positions. Never throws on what a user wrote.</summary>
public sealed class SyntaxReader
{
    public const int MaxBytes = 4 * 1024 * 1024;
    public const int MaxDepth = 32;

    private readonly SourceText _source;
    private readonly DiagnosticBag _diagnostics;
    private readonly IParser _parser;

    private SyntaxReader(SourceText source, DiagnosticBag diagnostics)
    {
        _source = source;
        _diagnostics = diagnostics;
        _parser = new Parser(new StringReader(source.Text));
    }

    /// <summary>Reads a file as UTF-8 text; null (and a finding) when it cannot be used.</summary>
    public static SourceText? ReadFile(string path, DiagnosticBag diagnostics)
    {
        var start = Span.Start(path);
        try
        {
            if (Directory.Exists(path))
            {
                diagnostics.Add(Codes.CannotRead, start, "this is a folder, not a file", "name the description file");
                return null;
            }
            var file = new FileInfo(path);
            if (!file.Exists)
            {
                diagnostics.Add(Codes.CannotRead, start, "there is no such file", "check the path");
                return null;
            }
            if (ReadBytes(path) is not { } bytes)
            {
                diagnostics.Add(Codes.TooLarge, start, $"the file has more than {MaxBytes} bytes", "split it into one file per module");
                return null;
            }
            var text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes);
            return new SourceText(path, text.TrimStart('\uFEFF'));
        }
        catch (DecoderFallbackException)
        {
            diagnostics.Add(Codes.NotUtf8, start, "the file is not UTF-8 text", "save it as UTF-8");
        }
        catch (ArgumentException)
        {
            diagnostics.Add(Codes.CannotRead, start, "this is not a path", "check the path");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            diagnostics.Add(Codes.CannotRead, start, e.Message.TrimEnd('.'), "check the path and its permissions");
        }
        return null;
    }

    // Bounded, because pipes and devices do not tell their length. Null when there is more than the limit.
    private static byte[]? ReadBytes(string path)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        using var bytes = new MemoryStream();
        var part = new byte[64 * 1024];
        for (int read; (read = stream.Read(part)) > 0;)
        {
            bytes.Write(part, 0, read);
            if (bytes.Length > MaxBytes)
                return null;
        }
        return bytes.ToArray();
    }

    /// <summary>Parses a text; null (and a finding) when nothing usable is in it.</summary>
    public static SyntaxNode? Read(SourceText source, DiagnosticBag diagnostics)
    {
        if (source.Text.IndexOf('\0') is >= 0 and var nul)
        {
            diagnostics.Add(Codes.NotUtf8, PlaceOf(source, nul), "the text holds a zero byte", "save it as UTF-8 text");
            return null;
        }
        var reader = new SyntaxReader(source, diagnostics);
        try
        {
            return reader.ReadDocument();
        }
        catch (YamlException e)
        {
            reader.ReportYaml(e);
            return null;
        }
        catch (Exception e) when (e is ArgumentException or InvalidOperationException)
        {
            // The library stumbles over some texts, such as the escape "\UFFFFFFFF", instead of naming the fault.
            var mark = reader._parser.Current?.End ?? Mark.Empty;
            reader.ReportYaml(new YamlException(mark, mark, "the text behind this place breaks a rule of YAML"));
            return null;
        }
        catch (TooDeepException e)
        {
            diagnostics.Add(Codes.TooLarge, e.Span, $"nested more than {MaxDepth} levels deep", "descriptions need only a few levels");
            return null;
        }
    }

    private SyntaxNode? ReadDocument()
    {
        _parser.Consume<StreamStart>();
        if (_parser.Accept<StreamEnd>(out _))
        {
            _diagnostics.Add(Codes.Empty, Span.Start(_source.Path), "the file holds no description", "start with the line 'locum: 1'");
            return null;
        }
        _parser.Consume<DocumentStart>();
        var root = ReadNode(0);
        _parser.Consume<DocumentEnd>();
        if (_parser.Accept<DocumentStart>(out var second))
            _diagnostics.Add(Codes.SeveralDocuments, SpanOf(second), "a second document starts here", "move it into a file of its own");
        return root;
    }

    private SyntaxNode ReadNode(int depth)
    {
        var current = _parser.Current ?? throw new YamlException("the text ends too early");
        if (depth > MaxDepth)
            throw new TooDeepException(SpanOf(current));
        if (current is NodeEvent node && (!node.Anchor.IsEmpty || !node.Tag.IsEmpty))
            _diagnostics.Add(Codes.Alias, SpanOf(node), "anchors and tags are not part of the description language", "write the value itself");
        switch (current)
        {
            case Scalar scalar:
                _parser.MoveNext();
                return new ScalarNode(scalar.Value, scalar.Style is not ScalarStyle.Plain, SpanOf(scalar));
            case AnchorAlias alias:
                _parser.MoveNext();
                _diagnostics.Add(Codes.Alias, SpanOf(alias), "aliases are not part of the description language", "write the value itself");
                return new ScalarNode("", false, SpanOf(alias));
            case SequenceStart start:
                return ReadSequence(start, depth);
            case MappingStart start:
                return ReadMapping(start, depth);
            default:
                throw new YamlException(current.Start, current.End, "a value is expected here");
        }
    }

    private SequenceNode ReadSequence(SequenceStart start, int depth)
    {
        _parser.MoveNext();
        var items = new List<SyntaxNode>();
        while (!_parser.Accept<SequenceEnd>(out _))
            items.Add(ReadNode(depth + 1));
        var end = _parser.Consume<SequenceEnd>();
        return new SequenceNode(items, SpanOf(start, end, start.Style is SequenceStyle.Flow));
    }

    private MappingNode ReadMapping(MappingStart start, int depth)
    {
        _parser.MoveNext();
        var entries = new List<MappingEntry>();
        var seen = new Dictionary<string, Span>(StringComparer.Ordinal);
        while (!_parser.Accept<MappingEnd>(out _))
        {
            var key = ReadNode(depth + 1);
            var value = ReadNode(depth + 1);
            if (key is not ScalarNode name)
                _diagnostics.Add(Codes.WrongShape, key.Span, $"a key must be a single word, this is {key.Kind}", "write 'key: value'");
            else if (!seen.TryAdd(name.Value, name.Span))
                _diagnostics.Add(Codes.DuplicateKey, name.Span, $"'{Printable.Short(name.Value)}' was given before, in line {seen[name.Value].Line}", "keep one of the two", seen[name.Value]);
            else
                entries.Add(new MappingEntry(name, value));
        }
        var end = _parser.Consume<MappingEnd>();
        return new MappingNode(entries, SpanOf(start, end, start.Style is MappingStyle.Flow));
    }

    private void ReportYaml(YamlException e)
    {
        var line = (int)Math.Max(1, e.Start.Line);
        var column = (int)Math.Max(1, e.Start.Column);
        var span = Inside(line, column, (int)e.End.Line, (int)e.End.Column);
        if (FindTab(span, Reason(e)) is { } tab)
            _diagnostics.Add(Codes.NotYaml, tab, "a tab stands in the indentation", "indent with spaces; YAML does not allow tabs there");
        else
            _diagnostics.Add(Codes.NotYaml, span, Reason(e), "check indentation, colons followed by a space, closing brackets and quotes");
    }

    // The library's place is where the surrounding mapping starts, which may be far before the tab.
    private Span? FindTab(Span span, string reason)
    {
        var last = reason.Contains(" tab ", StringComparison.Ordinal) ? _source.LineCount : span.EndLine + 1;
        for (var line = span.Line; line <= last; line++)
            if (_source.Line(line).TakeWhile(char.IsWhiteSpace).ToList().IndexOf('\t') is >= 0 and var column)
                return new Span(_source.Path, line, column + 1, line, column + 2);
        return null;
    }

    private static string Reason(YamlException e)
    {
        var reason = e.InnerException is YamlException inner ? inner.Message : e.Message;
        // The library prefixes some messages with the place, which the finding states already.
        var cut = reason.IndexOf("): ", StringComparison.Ordinal);
        if (reason.StartsWith('(') && cut > 0)
            reason = reason[(cut + 3)..];
        return reason.TrimEnd('.', ' ');
    }

    private Span SpanOf(ParsingEvent e) => SpanOf(e, e, false);

    // The library ends a flow collection before its closing bracket.
    private Span SpanOf(ParsingEvent first, ParsingEvent last, bool bracket) => bracket
        ? Inside((int)first.Start.Line, (int)first.Start.Column, (int)last.Start.Line, (int)last.Start.Column + 1)
        : Inside((int)first.Start.Line, (int)first.Start.Column, (int)last.End.Line, (int)last.End.Column);

    // The library adds a line end to a text that has none, and so ends it in a line that does not exist.
    private Span Inside(int line, int column, int endLine, int endColumn)
    {
        var (first, firstColumn) = Clamp(line, column);
        var (last, lastColumn) = Clamp(endLine, endColumn);
        return last < first || (last == first && lastColumn < firstColumn)
            ? new Span(_source.Path, first, firstColumn, first, firstColumn)
            : new Span(_source.Path, first, firstColumn, last, lastColumn);
    }

    private (int Line, int Column) Clamp(int line, int column) => line > _source.LineCount
        ? (_source.LineCount, _source.Line(_source.LineCount).Length + 1)
        : (Math.Max(line, 1), Math.Clamp(column, 1, _source.Line(line).Length + 1));

    private static Span PlaceOf(SourceText source, int index)
    {
        var before = new SourceText(source.Path, source.Text[..index]);
        var column = before.Line(before.LineCount).Length + 1;
        return new Span(source.Path, before.LineCount, column, before.LineCount, column + 1);
    }

    private sealed class TooDeepException(Span span) : Exception
    {
        public Span Span { get; } = span;
    }
}
