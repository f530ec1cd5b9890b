using System.CommandLine;
using Locum.Binding;
using Locum.Wire;

namespace Locum.Cli;

/// <summary>Arguments and options that several commands share.</summary>
internal static class CommonOptions
{
    private const int ExtendedDigits = 8;

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

    /// <summary>A bit rate in bit/s.</summary>
    public static Option<int?> Rate(string description) => new("--rate")
    {
        Description = description,
        CustomParser = result =>
        {
            if (BitRate(result.Tokens.Count is 1 ? result.Tokens[0].Value : "") is { } rate)
                return rate;
            result.AddError($"--rate takes {RateWords}");
            return null;
        },
    };

    /// <summary>What <see cref="BitRate"/> takes, for people.</summary>
    public const string RateWords = "a bit rate from 5 kbit/s to 1 Mbit/s, such as '500 kbit/s' or 500k";

    /// <summary>A bit rate in bit/s; null when it is none of classic CAN.</summary>
    public static int? BitRate(string text)
    {
        var rate = Quantity.Rate(text.EndsWith('k') ? $"{text[..^1]} kbit/s" : text.EndsWith('M') ? $"{text[..^1]} Mbit/s" : text);
        return rate is >= 5_000 and <= 1_000_000 ? (int)rate : null;
    }

    /// <summary>An identifier, of 29 bits above 0x7FF or with 8 digits; null when it is none.</summary>
    public static CanId? Identifier(string text)
    {
        if (Quantity.Integer(text) is not (>= 0 and <= CanId.MaxExtended and var value))
            return null;
        var extended = value > CanId.MaxStandard || (text.StartsWith("0x", StringComparison.OrdinalIgnoreCase) && text.Length == ExtendedDigits + 2);
        return new CanId((uint)value, extended);
    }

    /// <summary>A choice among words; the first is the default.</summary>
    public static Option<string> Choice(string name, string description, params string[] words)
    {
        var option = new Option<string>(name) { Description = $"{description} ({string.Join(", ", words)}).", DefaultValueFactory = _ => words[0] };
        option.AcceptOnlyFromAmong(words);
        return option;
    }
}
