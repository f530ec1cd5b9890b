using System.Text;

namespace Locum.Drafting;

/// <summary>Lines of a description with their comments: beside the line while 80 columns hold both, otherwise above it.</summary>
internal sealed class YamlLines
{
    private const int Columns = 80;
    private const int Step = 2;

    private readonly StringBuilder _text = new();

    /// <summary>An entry.</summary>
    /// <param name="depth">How deep it stands.</param>
    /// <param name="line">Key and value, in plain YAML.</param>
    /// <param name="comment">What is said about it; empty for nothing.</param>
    public void Add(int depth, string line, string comment = "")
    {
        string margin = new(' ', depth * Step);
        if (comment.Length > 0 && margin.Length + line.Length + comment.Length + 4 > Columns)
        {
            Comment(depth, comment);
            comment = "";
        }
        _text.Append(margin).Append(line).Append(comment.Length > 0 ? $"  # {comment}" : "").Append('\n');
    }

    /// <summary>A comment on lines of its own.</summary>
    public void Comment(int depth, string comment)
    {
        string margin = new(' ', depth * Step);
        var line = new StringBuilder(margin).Append('#');
        foreach (string word in comment.Split(' '))
        {
            if (line.Length + 1 + word.Length > Columns && line.Length > margin.Length + 1)
            {
                _text.Append(line).Append('\n');
                line.Clear().Append(margin).Append('#');
            }
            line.Append(' ').Append(word);
        }
        _text.Append(line).Append('\n');
    }

    /// <summary>An empty line.</summary>
    public void Gap() => _text.Append('\n');

    public override string ToString() => _text.ToString();
}
