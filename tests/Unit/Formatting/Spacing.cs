namespace Locum.Tests.Unit.Formatting;

/// <summary>Changes to a text that a person could make while laying it out; the result need not be YAML.</summary>
internal static class Spacing
{
    public static string Change(string text, int kind, int at)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n').ToList();
        var line = at % lines.Count;
        switch (kind)
        {
            case 0: // a comment of its own, at some indentation
                lines.Insert(line, new string(' ', at / 7 % 9) + $"# own {at}: {{x}}, 'y'");
                break;
            case 1: // a comment beside something
                lines[line] += $" #beside {at}";
                break;
            case 2: // an empty line, or one of spaces
                lines.Insert(line, new string(' ', at / 7 % 3));
                break;
            case 3: // more space behind a colon or comma
                lines[line] = lines[line].Replace(": ", ":   ", StringComparison.Ordinal).Replace(", ", " ,  ", StringComparison.Ordinal);
                break;
            case 4: // a flow collection over several lines
                var commas = Enumerable.Range(0, lines[line].Length).Where(i => lines[line][i] is ',' or '{' or '[').ToList();
                if (commas.Count > 0)
                {
                    var cut = commas[at / 7 % commas.Count] + 1;
                    lines.Insert(line + 1, new string(' ', 12) + lines[line][cut..]);
                    lines[line] = lines[line][..cut] + (at % 2 is 0 ? $" # within {at}" : "");
                }
                break;
            default: // a unit without its space, hexadecimal in lower case
                lines[line] = lines[line].Replace(" ms", "ms", StringComparison.Ordinal).Replace("0xF", "0xf", StringComparison.Ordinal).Replace(" FF", " ff", StringComparison.Ordinal);
                break;
        }
        return string.Join('\n', lines);
    }
}
