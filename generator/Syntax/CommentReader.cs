using Locum.Text;
using YamlDotNet.Core;
using YamlDotNet.Core.Tokens;

namespace Locum.Syntax;

/// <summary>A comment of a YAML text.</summary>
/// <param name="Text">From the '#' on, without spaces at the end.</param>
/// <param name="Beside">True when something else stands before it on its line.</param>
/// <param name="Line">1-based.</param>
/// <param name="Column">1-based, of the '#'.</param>
public sealed record SourceComment(string Text, bool Beside, int Line, int Column);

/// <summary>Finds the comments that the parser skips.</summary>
public static class CommentReader
{
    /// <summary>All comments in order; the text must be one that <see cref="SyntaxReader"/> reads without findings.</summary>
    public static IReadOnlyList<SourceComment> Read(SourceText source)
    {
        var comments = new List<SourceComment>();
        var scanner = new Scanner(new StringReader(source.Text), skipComments: false);
        while (scanner.MoveNext())
        {
            if (scanner.Current is not Comment { Start: var start })
                continue;
            // The token's own text has lost spaces behind the '#'.
            var line = source.Line((int)start.Line);
            var column = (int)start.Column;
            comments.Add(new SourceComment(line[(column - 1)..].TrimEnd(), !string.IsNullOrWhiteSpace(line[..(column - 1)]), (int)start.Line, column));
        }
        return comments;
    }
}
