using System.Globalization;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Proving;

/// <summary>What a PC program or an emulated board printed.</summary>
/// <param name="Frames">Times in µs; -1 for a start and end that never came.</param>
/// <param name="Skipped">Releases not sent, by row.</param>
/// <param name="Measures">Values by name, as printed.</param>
/// <param name="Faults">What the models objected to.</param>
public sealed record ProgramOutput(
    IReadOnlyList<PrintedFrame> Frames,
    IReadOnlyList<ModeChange> Modes,
    IReadOnlyList<long> Skipped,
    IReadOnlyDictionary<string, double> Measures,
    IReadOnlyList<string> Faults)
{
    private const int MostWords = 7;

    /// <summary>Begins and ends of silence.</summary>
    public IReadOnlyList<SilenceChange> Silences { get; init; } = [];

    /// <summary>Outputs that went on or off.</summary>
    public IReadOnlyList<OutputChange> Outputs { get; init; } = [];

    /// <summary>Resets of an emulated board, µs.</summary>
    public IReadOnlyList<double> Resets { get; init; } = [];

    /// <summary>When an emulated board's clock showed 0, after power-on and each reset, µs.</summary>
    public IReadOnlyList<double> Lives { get; init; } = [];

    /// <summary>What a watched pin of an emulated board put out.</summary>
    public IReadOnlyList<PinLevel> Pins { get; init; } = [];

    /// <exception cref="FormatException">A line is not understood.</exception>
    public static ProgramOutput Parse(string text, BoardPlan plan)
    {
        var frames = new List<PrintedFrame>();
        var modes = new List<ModeChange>();
        var silences = new List<SilenceChange>();
        var outputs = new List<OutputChange>();
        var skipped = new List<long>();
        var measures = new Dictionary<string, double>(StringComparer.Ordinal);
        var faults = new List<string>();
        var resets = new List<double>();
        var lives = new List<double>();
        var pins = new List<PinLevel>();
        Span<Range> words = stackalloc Range[MostWords + 1];
        foreach (var untrimmed in text.AsSpan().EnumerateLines())
        {
            var line = untrimmed.Trim();
            if (line.IsEmpty)
                continue;
            try
            {
                Read(new Words(line, words[..line.Split(words, ' ')]));
            }
            catch (Exception e) when (e is FormatException or OverflowException or ArgumentOutOfRangeException)
            {
                throw new FormatException($"the program printed '{line}'", e);
            }
        }
        return new ProgramOutput(frames, modes, skipped, measures, faults) { Silences = silences, Outputs = outputs, Resets = resets, Lives = lives, Pins = pins };

        void Read(Words words)
        {
            switch (words[0])
            {
                case "frame" when words.Length is 7:
                    frames.Add(Frame(words, plan));
                    break;
                case "mode" when words.Length is 4:
                    modes.Add(Mode(words, plan));
                    break;
                case "silent" when words.Length is 3:
                    silences.Add(new SilenceChange(Whole(words[1]), 0, (Silence)Whole(words[2])));
                    break;
                case "output" when words.Length is 4:
                    outputs.Add(new OutputChange(Whole(words[1]), 0, plan.Outputs[(int)Whole(words[2])].Index, words[3] is "1"));
                    break;
                case "skipped" when words.Length is 3:
                    skipped.Add(Whole(words[2]));
                    break;
                case "measure" when words.Length is 3:
                    measures[words[1].ToString()] = double.Parse(words[2], CultureInfo.InvariantCulture);
                    break;
                case "reset" when words.Length is 2:
                    resets.Add(Time(words[1]));
                    break;
                case "life" when words.Length is 2:
                    lives.Add(Time(words[1]));
                    break;
                case "pin" when words.Length is 4:
                    pins.Add(new PinLevel(Whole(words[3]), words[2] is "1"));
                    break;
                case "fault":
                    faults.Add(words.Line.ToString());
                    break;
                default:
                    throw new FormatException("no such line");
            }
        }
    }

    private static ModeChange Mode(Words words, BoardPlan plan)
    {
        var change = new ModeChange(Whole(words[1]), 0, (int)Whole(words[2]), (int)Whole(words[3]));
        return plan.Modules[change.Module].Module.Modes[change.Mode].Index == change.Mode ? change : throw new FormatException("no such mode");
    }

    private static PrintedFrame Frame(Words words, BoardPlan plan)
    {
        var id = uint.Parse(words[2], NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);
        var (identifier, format) = FrameWord.Read(id);
        var data = words[3] is "-" ? [] : Convert.FromHexString(words[3]);
        return new PrintedFrame(plan.Buses[int.Parse(words[1], CultureInfo.InvariantCulture)].Name,
            identifier, data, Time(words[4]), Time(words[5]), Time(words[6]))
        {
            Format = format,
        };
    }

    private static double Time(ReadOnlySpan<char> word) => word is "-" ? -1
        : long.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out var whole) ? whole
        : double.Parse(word, CultureInfo.InvariantCulture);

    private static long Whole(ReadOnlySpan<char> word) => long.Parse(word, CultureInfo.InvariantCulture);

    /// <summary>A line between its spaces.</summary>
    private readonly ref struct Words(ReadOnlySpan<char> line, ReadOnlySpan<Range> words)
    {
        private readonly ReadOnlySpan<Range> _words = words;

        public ReadOnlySpan<char> Line { get; } = line;

        public int Length => _words.Length;

        public ReadOnlySpan<char> this[int word] => Line[_words[word]];
    }
}

/// <summary>A frame as a program printed it; emulated boards have fractions of a microsecond.</summary>
public sealed record PrintedFrame(string Bus, CanId Id, byte[] Data, double AcceptedUs, double StartUs, double EndUs)
{
    public FrameFormat Format { get; init; }
}

/// <summary>From this time on a pin is high or low.</summary>
public sealed record PinLevel(long AtUs, bool High);
