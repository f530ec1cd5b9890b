using Locum.Diagnostics;
using Locum.Drafting;
using Locum.Inference;
using Locum.Inference.Checksums;
using Locum.Model;
using Locum.Simulation;
using Locum.Syntax;
using Locum.Tests.Unit.Drafting;
using Locum.Tests.Unit.Inference;
using Locum.Text;
using Locum.Validation;
using Locum.Wire;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Drafts of what random modules sent: always a usable description, and how often each feature comes back.</summary>
public sealed class DraftTests(ITestOutputHelper log)
{
    private const int Drafted = 240;
    private const int First = 40_000;
    private const long RunUs = 3_000_000;
    private const int LeastFrames = 60;
    private const double PeriodError = 0.0045;
    private const double FullBus = 0.8;

    // Stated floors, of features that show: frames sent at least 60 times, counters seen for two rounds, checksums of whole
    // bytes or an upper nibble. Random modules share buses that are up to 95 % busy and change modes every few milliseconds.
    private static readonly Dictionary<string, double> s_floors = new()
    {
        ["length"] = 1.0,
        ["period"] = 0.95,
        ["counter"] = 0.97,
        ["checksum"] = 0.75,
        ["payloads in turn"] = 0.6,
        ["constant bits"] = 1.0,
    };

    [Fact]
    public void Every_draft_is_a_clean_description_and_features_come_back_at_the_stated_rates()
    {
        var rates = s_floors.Keys.ToDictionary(k => k, _ => (Found: 0, All: 0));
        Cases.Run(log, new DescriptionGen(), Drafted, project =>
        {
            var loaded = project.Load();
            // What disturbs a board is no feature of a module.
            var stimulus = loaded.Stimuli[0] with { EndUs = RunUs, BusOffs = [], Resets = [], Stalls = [], Blocked = [] };
            var frames = Simulator.Run([loaded.Plan], stimulus).Frames.Where(f => f.EndUs >= 0).ToList();
            var recording = Synthetic.Of(frames);
            foreach (var module in loaded.Plan.Modules.Select(m => m.Module))
            {
                // Some stimuli send a module's identifier as well; then nobody can tell whose frames they are.
                var own = frames.GroupBy(f => (f.Bus, f.Id)).Where(g => g.All(f => f.Sender.StartsWith(module.Name + ".", StringComparison.Ordinal))).Select(g => g.Key).ToHashSet();
                var series = recording.Series.Where(s => own.Contains((s.BusName, s.Id))).ToList();
                if (series.Count is 0)
                    continue;
                var findings = ModuleInference.Find(recording, series);
                var draft = Drafter.Write(findings, new DraftOptions { Name = "again", Source = "a simulation" });
                if (draft.Text is { } text)
                {
                    // Random modules really need most of a bus, and more than all of it if each bit were stuffed at worst.
                    DraftLoad.AssertClean(text, findings.Buses.Any(b => b.BitsPerSecond > FullBus * (b.SeenRate ?? int.MaxValue)) ? [Codes.HighLoad, Codes.Overload] : [Codes.HighLoad]);
                }
                foreach (var found in findings.Frames.Where(f => f.Transport is null))
                    Count(module, found, rates);
            }
        }, First);
        foreach (var (feature, (found, all)) in rates)
            log.WriteLine($"{feature}: {found} of {all}, {(all > 0 ? 100.0 * found / all : 0):0.0} %");
        foreach (var (feature, floor) in s_floors)
            Assert.True(!Cases.Whole || (rates[feature].All > 0 && rates[feature].Found >= floor * rates[feature].All), $"{feature}: {rates[feature]}");
    }

    private void Count(Module module, FrameFindings found, Dictionary<string, (int Found, int All)> rates)
    {
        var matching = module.Frames.Where(f => f.Bus >= 0 && module.Buses[f.Bus].Name == found.Series.BusName && f.Id == found.Series.Id).ToList();
        if (found.Series.Count < LeastFrames || matching is not [{ IsDescribed: true } frame])
            return;
        Tally("length", found.Payloads.Length == frame.Length);
        if (frame.IsCyclic && frame.Events is null && frame.PeriodByMode.Count is 0 && frame.Burst is null && SentAllTheTime(found, frame))
            Tally("period", Math.Abs(found.Sending.NominalUs - frame.PeriodUs) <= PeriodError * frame.PeriodUs, $"{frame.PeriodUs} us, {found.Sending.NominalUs} us found");
        var explained = found.Counters.SelectMany(c => c.Place.Positions()).Concat(found.Pages?.Bits ?? []).ToHashSet();
        var checksums = found.Checksums.SelectMany(ChecksumBits.Of).ToHashSet();
        if (frame.Pages.Count > 1)
        {
            if (!frame.HoldLastPage && frame.Pages.Any(p => !p.Base.SequenceEqual(frame.Pages[0].Base)) && frame.Pages.All(p => p.Fields.Count is 0) && frame.Fields.All(f => f.Source is null or FixedValue))
                Tally("payloads in turn", found.Pages is not null, frame.Name);
            return;
        }
        Tally("constant bits", Enumerable.Range(0, found.Activity.Bits).All(b => found.Activity.Changes(b) || Written(frame, b) || found.Activity.IsSet(b) == ((frame.Base[b / 8] >> (b % 8) & 1) is 1)), frame.Name);
        foreach (var field in frame.Fields)
        {
            bool changes = field.Positions().Any(found.Activity.Changes);
            if (field.Source is CounterValue { Counter: var number } && module.Counters[number] is { PerSlot: false, RestartOnEntry: false, Every: 1 } counter && !IsShared(module, number)
                && counter.Count > 2 && counter.Count * 2 < (ulong)found.Series.Count)
                Tally("counter", field.Positions().Where(found.Activity.Changes).All(b => explained.Contains(b) || checksums.Contains(b)), $"{field.Name}, {counter.From} to {counter.To} by {counter.Step}");
            if (field.Source is ChecksumValue { Checksum: { Rule: not FormulaRule } sum } && changes && IsUsual(field, sum))
                Tally("checksum", field.Positions().Where(found.Activity.Changes).All(b => checksums.Contains(b) || explained.Contains(b)), $"{sum.Rule.Name} of {field.Bits} bits");
        }

        void Tally(string feature, bool hit, string what = "")
        {
            rates[feature] = (rates[feature].Found + (hit ? 1 : 0), rates[feature].All + 1);
            if (!hit)
                log.WriteLine($"missed {feature}: {what}");
        }
    }

    // Checksums as people build them: whole bytes, or the upper nibble of one; every byte read once.
    private static bool IsUsual(Field field, Checksum sum) =>
        (field.Bits is 8 or 16 or 32 && field.Bit % 8 is 0 || field.Bits is 4 && field.Bit % 8 is 4) && sum.Over.Distinct().Count() == sum.Over.Count && sum.Over.Count > 1;

    // A frame that is silent in some modes, or waits on a crowded bus, has no steady period.
    private static bool SentAllTheTime(FrameFindings found, Frame frame)
    {
        var times = found.Series.TimesUs;
        return Math.Abs(((times[^1] - times[0]) / (double)frame.PeriodUs) - found.Series.Count + 1) < 1;
    }

    private static bool Written(Frame frame, int bit) => frame.Fields.Any(f => f.Source is not null && f.Positions().Contains(bit));

    private static bool IsShared(Module module, int counter) =>
        module.Frames.SelectMany(f => f.AllFields).Count(f => f.Source is CounterValue c && c.Counter == counter) > 1;
}
