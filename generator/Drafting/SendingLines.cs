using Locum.Inference;
using Locum.Inference.Relations;
using Locum.Inference.Timing;
using Locum.Wire;

namespace Locum.Drafting;

/// <summary>When a frame is sent: period, fast beginning, offset, stages, events.</summary>
/// <param name="context">The draft.</param>
/// <param name="number">Number of the frame in the findings.</param>
internal sealed class SendingLines(DraftContext context, int number)
{
    private const double LateStart = 1.05;
    private const double RoundUs = 300;
    private const double RoughUs = 2_000;
    private const int MostRepeats = 20;

    private readonly FrameFindings _frame = context.Findings.Frames[number];

    /// <summary>The stage in which the frame is sent first.</summary>
    public int FirstPhase { get; private set; }

    private SendingFinding Sending => _frame.Sending;

    private string Name => context.FrameNames[number];

    /// <summary>Writes the keys.</summary>
    public void Write(YamlLines lines)
    {
        double offset = Offset();
        if (_frame.Answer is { } answer && (answer.Evidence.Confidence > Confidence.Possible || Sending.IsCyclic || Sending.Kind is SendingKind.Events or SendingKind.Rare))
            WriteAnswer(answer, lines);
        else if (Sending.NominalUs > 0)
            WritePeriod(offset, lines);
        else
            WriteStart(offset, lines);
        if (FirstPhase > 0)
            lines.Add(2, $"in: [{string.Join(", ", context.Modes.Skip(FirstPhase))}]");
    }

    // From the stage in which the frame starts; a recording that begins in the middle shows the phase only.
    private double Offset()
    {
        double offset = _frame.OffsetUs;
        double period = Sending.MeanUs;
        if (period <= 0 || offset <= LateStart * period)
            return offset;
        if (!context.Findings.Start.Seen)
            return offset % period;
        FirstPhase = context.Findings.Phases.At((long)offset);
        return offset - (FirstPhase is 0 ? 0 : context.Findings.Phases.EndsUs[FirstPhase - 1]);
    }

    private void WritePeriod(double offset, YamlLines lines)
    {
        string mean = DraftWords.Text($"mean {DraftWords.Measured(Sending.MeanUs)}, jitter {DraftWords.Rough(Sending.JitterUs)}");
        string note = (Sending.ByNumber ? "by number, time stamps are too rough; " : "") + mean + (Sending.Missing > 0 ? DraftWords.Text($"; {Sending.Missing} missing") : "");
        long wire = WireLength.Maximum(_frame.Format, _frame.Series.Id.Extended, _frame.Payloads.Length).WithIntermission.TimeUs(context.Rates[_frame.Series.Bus], null);
        if (Sending.NominalUs < wire)
            context.LeaveOpen(number, "", DraftWords.Text($"comes every {DraftWords.Measured(Sending.MeanUs)}, which is shorter than the frame may be; lengthened"));
        string period = DraftWords.Time(Math.Max(Sending.NominalUs, wire));
        lines.Add(2, $"every: {period}", context.Tell(new Fact(Name, "period", period, Sending.Confidence, Sending.Evidence, "gap", note)));
        if (Sending.BurstCount > 0)
        {
            string burst = DraftWords.Text($"{{first: {Sending.BurstCount}, every: {DraftWords.Time(Math.Max(Sending.BurstUs, wire))}}}");
            lines.Add(2, $"burst: {burst}", context.Tell(new Fact(Name, "fast beginning", burst, Sending.BurstEvidence.Confidence, Sending.BurstEvidence, "start")));
        }
        long rounded = NominalTime.Delay(offset, Math.Max(RoundUs, Math.Min(RoughUs / 2, Sending.JitterUs)));
        if (rounded > 0)
        {
            var sure = Sending.ByNumber || Sending.JitterUs > RoughUs ? Confidence.Possible : Confidence.Likely;
            string after = FirstPhase > 0 ? $"after {context.Modes[FirstPhase]} began" : "after the first frame of all";
            lines.Add(2, $"offset: {DraftWords.Time(rounded)}", context.Tell(new Fact(Name, "offset", DraftWords.Time(rounded), sure, default, "", after)));
        }
        foreach (var other in Sending.Others)
            context.LeaveOpen(number, "", DraftWords.Text($"also every {DraftWords.Measured(other.PeriodUs)}, {DraftWords.Count(other.Frames, "gap")}, {DraftWords.Count(other.Times, "time")}; the cause is not known"));
        if (Sending.Extra > 0 && !WriteChange(lines))
            context.LeaveOpen(number, "", DraftWords.Text($"{DraftWords.Count(Sending.Extra, "frame")} between the periods, {Cause()}"));
    }

    // The language knows changes of fields that follow others.
    private bool WriteChange(YamlLines lines)
    {
        if (_frame.Change is not { } change || change.Evidence.Confidence is Confidence.Possible)
            return false;
        var names = _frame.Follows.Where(f => f.Confidence > Confidence.Possible && change.Places.Contains(f.Place)).Select(f => FollowLines.Name(f.Place)).ToList();
        if (names.Count is 0)
            return false;
        string says = $"{{change: [{string.Join(", ", names)}]}}";
        lines.Add(2, $"on: {says}", context.Tell(new Fact(Name, "events", says, change.Evidence.Confidence, change.Evidence, "frame between")));
        return true;
    }

    private string Cause() => _frame.Change is { } change
        ? DraftWords.Text($"{change.Evidence.Hits} of {change.Evidence.Tested} with a change of {string.Join(", ", change.Places)}")
        : "sent on events perhaps";

    private void WriteAnswer(AnswerFinding answer, YamlLines lines)
    {
        long wire = WireLength.Of(_frame.Series.Id, _frame.Series.Format(0), _frame.Series.Data(0)).TimeUs(context.Rates[_frame.Series.Bus], null);
        long after = Math.Max(0, NominalTime.Delay(answer.AfterUs - wire, RoundUs));
        string says = $"{{receive: {context.Receives.Frame(answer.Request)}{(after > 0 ? $", after: {DraftWords.Time(after)}" : "")}}}";
        string note = DraftWords.Text($"{DraftWords.Measured(answer.RangeUs.Low)} to {DraftWords.Measured(answer.RangeUs.High)} after {answer.Request.Id}");
        if (Sending.NominalUs > 0)
            note += $", though every {DraftWords.Time(Sending.NominalUs)} fits too";
        lines.Add(2, $"on: {says}", context.Tell(new Fact(Name, "answer", says, answer.Evidence.Confidence, answer.Evidence, "frame of both", note)));
    }

    // Nothing tells why; so that the description is usable, the frames at the start are sent.
    private void WriteStart(double offset, YamlLines lines)
    {
        var (repeats, spacing) = AtStart();
        long after = NominalTime.Delay(offset, RoundUs);
        string says = $"{{start: yes{(after > 0 ? $", after: {DraftWords.Time(after)}" : "")}}}";
        bool all = repeats == _frame.Series.Count && context.Findings.Start.Seen;
        var fact = new Fact(Name, "sending", says, Confidence.Possible, default, "", DraftWords.Text($"{DraftWords.Count(_frame.Series.Count, "frame")} without a period"));
        lines.Add(2, $"on: {says}", context.Tell(fact));
        if (repeats > 1)
        {
            lines.Add(2, DraftWords.Text($"repeat: {repeats}"));
            lines.Add(2, $"spacing: {DraftWords.Time(spacing)}");
        }
        if (!all)
            context.LeaveOpen(number, "", DraftWords.Text($"{DraftWords.Count(_frame.Series.Count, "frame")} without a period, {(_frame.Change is null ? "what sends them is not known" : Cause())}"));
    }

    private (int Repeats, long SpacingUs) AtStart()
    {
        var times = _frame.Series.TimesUs.Slice(_frame.First.First, Math.Min(_frame.First.Count, MostRepeats));
        if (times.Length < 2 || times.Length == MostRepeats)
            return (1, 0);
        long spacing = times[1] - times[0];
        int repeats = 1;
        while (repeats < times.Length && Math.Abs(times[repeats] - times[repeats - 1] - spacing) <= spacing / 4)
            repeats++;
        spacing = NominalTime.Of(Math.Max(100, (times[repeats - 1] - times[0]) / (double)(repeats - 1)), RoundUs);
        return (repeats, Math.Max(100, spacing));
    }
}
