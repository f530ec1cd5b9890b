using Locum.Diagnostics;
using Locum.Drafting;
using Locum.Inference;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Xunit;

namespace Locum.Tests.Unit.Drafting;

/// <summary>A module's frames as they were, its draft, and the draft's own frames in the same surroundings.</summary>
internal sealed class Loop
{
    private readonly List<SentFrame> _before;
    private readonly List<SentFrame> _after;
    private readonly long _zeroUs;

    /// <param name="frames">What was on the buses.</param>
    /// <param name="own">True for the module's frames.</param>
    /// <param name="stimulus">What else happened.</param>
    /// <param name="rate">What is said of the bit rate; null for nothing.</param>
    public Loop(IReadOnlyList<SentFrame> frames, Func<SentFrame, bool> own, Stimulus stimulus, int? rate = null)
    {
        var recording = Inference.Synthetic.Of(frames);
        var ids = frames.Where(f => f.EndUs >= 0 && own(f)).Select(f => (f.Bus, f.Id)).ToHashSet();
        var findings = ModuleInference.Find(recording, [.. recording.Series.Where(s => ids.Contains((s.BusName, s.Id)))], rate);
        Draft = Drafter.Write(findings, new DraftOptions { Name = "again", Source = "a simulation", Rate = rate });
        Module = DraftLoad.AssertClean(Draft.Text!);
        _before = [.. frames.Where(f => f.EndUs >= findings.Start.TimeUs && own(f))];
        _zeroUs = _before.Where(f => f.EndUs == findings.Start.TimeUs).Min(f => f.StartUs);
        var bag = new DiagnosticBag();
        var plan = BoardPlanner.Plan(BoardPlanner.Alone(Module), bag)!;
        Assert.False(bag.HasErrors, string.Join("; ", bag.Sorted.Select(d => d.Message)));
        _after = [.. Simulator.Run([plan], Shifted(stimulus)).Frames.Where(f => f.EndUs >= 0 && f.Sender.Length > 0)];
    }

    /// <summary>The draft.</summary>
    public Draft Draft { get; }

    /// <summary>Its description as a model.</summary>
    public Module Module { get; }

    /// <summary>The facts of a frame, as "what says word".</summary>
    public IReadOnlyList<string> Facts(string frame) => [.. Draft.Facts.Where(f => f.Subject == frame).Select(f => $"{f.What} {f.Says} {f.Word}")];

    /// <summary>
    /// Asserts that an identifier's frames come back: payloads but for the masked bits, times within the tolerance. Gives
    /// the number of frames compared.
    /// </summary>
    /// <param name="id">Identifier.</param>
    /// <param name="untilUs">End of what is compared, in the time of the simulation.</param>
    /// <param name="toleranceUs">How far a time may be off.</param>
    /// <param name="except">Bits that do not come back, as byte × 8 + bit.</param>
    public int AssertEqual(uint id, long untilUs, long toleranceUs, params int[] except)
    {
        var before = _before.Where(f => f.Id.Value == id && f.EndUs < untilUs).ToList();
        var after = _after.Where(f => f.Id.Value == id).ToList();
        Assert.True(after.Count >= before.Count, $"0x{id:X}: {after.Count} frames instead of {before.Count}");
        for (int i = 0; i < before.Count; i++)
        {
            Assert.True(Math.Abs(before[i].StartUs - _zeroUs - after[i].StartUs) <= toleranceUs, $"0x{id:X} frame {i}: {after[i].StartUs} us instead of {before[i].StartUs - _zeroUs} us");
            Assert.True(Masked(before[i].Data, except) == Masked(after[i].Data, except), $"0x{id:X} frame {i} at {before[i].StartUs} us: {Masked(after[i].Data, except)} instead of {Masked(before[i].Data, except)}");
            Assert.Equal(before[i].Format, after[i].Format);
        }
        return before.Count;
    }

    private static string Masked(byte[] data, int[] except)
    {
        byte[] masked = [.. data];
        foreach (int bit in except)
            masked[bit / 8] &= (byte)~(1 << (bit % 8));
        return Convert.ToHexString(masked);
    }

    // The same surroundings, from the module's start on. Other nodes' frames keep their phase.
    private Stimulus Shifted(Stimulus stimulus) => new()
    {
        EndUs = stimulus.EndUs - _zeroUs,
        Traffic = [.. stimulus.Traffic.Where(t => t.UntilUs > _zeroUs).Select(t => t with
        {
            FirstUs = t.FirstUs >= _zeroUs ? t.FirstUs - _zeroUs : (t.PeriodUs - ((_zeroUs - t.FirstUs) % t.PeriodUs)) % t.PeriodUs,
            UntilUs = t.UntilUs - _zeroUs,
        })],
        Blocked = [.. stimulus.Blocked.Select(b => b with { FromUs = b.FromUs - _zeroUs, UntilUs = b.UntilUs - _zeroUs })],
        Stalls = [.. stimulus.Stalls.Select(s => new Stall(s.FromUs - _zeroUs, s.UntilUs - _zeroUs))],
    };
}
