using System.CommandLine;
using Locum.Binding;

namespace Locum.Cli;

/// <summary>Arguments and options that several commands share.</summary>
internal static class CommonOptions
{
    public static Argument<string> Path() => new("path") { Description = "A description, a project.yaml, or a folder with one." };

    public static Option<string?> Stimulus() => new("--stimulus") { Description = "What happens around the boards: a YAML file. Default: the one the project names." };

    public static Option<string?> Board() => new("--board") { Description = "Only this board of the project." };

    public static Option<long?> For()
    {
        var option = new Option<long?>("--for") { Description = "How long to run, such as '10 s'. Default: as the stimulus says." };
        option.CustomParser = result =>
        {
            if (Quantity.TimeUs(result.Tokens.Count is 1 ? result.Tokens[0].Value : "") is { } time and > 0)
                return time;
            result.AddError("--for takes a time with its unit, such as '10 s' or '500 ms'");
            return null;
        };
        return option;
    }

    /// <summary>A choice among words; the first is the default.</summary>
    public static Option<string> Choice(string name, string description, params string[] words)
    {
        var option = new Option<string>(name) { Description = $"{description} ({string.Join(", ", words)}).", DefaultValueFactory = _ => words[0] };
        option.AcceptOnlyFromAmong(words);
        return option;
    }
}
