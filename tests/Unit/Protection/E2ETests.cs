using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Protection;
using Locum.Proving;
using Locum.Simulation;
using Xunit;

namespace Locum.Tests.Unit.Protection;

/// <summary>End-to-end protection from the description to what is sent, and back through a receiver.</summary>
public sealed class E2ETests
{
    private const int FirstId = 0x100;

    public static TheoryData<int> Rows => [.. Enumerable.Range(0, E2EVector.All.Count)];

    public static TheoryData<string> Profiles => [.. E2EProfile.All.Select(p => p.Name)];

    // Source: named in shared/vectors/e2e.json.
    [Theory]
    [MemberData(nameof(Rows))]
    public void The_simulator_sends_the_published_result(int row)
    {
        var vector = E2EVector.All[row];
        var sent = Simulator.Run([Plan(vector.Frame("F", FirstId))], new Stimulus { EndUs = 5_000 });
        Assert.Equal(Convert.ToHexString(vector.Result), Convert.ToHexString(Assert.Single(sent.Frames).Data));
    }

    [Fact]
    public void The_compiled_c_sends_the_published_results()
    {
        var frames = string.Concat(E2EVector.All.Select((v, i) => v.Frame($"F{i}", FirstId + i)));
        var plan = Plan(frames);
        var compiler = CCompiler.Find();
        Assert.NotNull(compiler);
        // Long enough for every first frame; the proof compares all bytes with the simulator's.
        var stimulus = new Stimulus { EndUs = 200_000 };
        var proof = Prover.Prove(plan, stimulus, "test", "0", compiler);
        Assert.True(proof.Equal, proof.Difference);
        var first = Simulator.Run([plan], stimulus).Frames.GroupBy(f => f.Id).ToDictionary(g => g.Key.Value, g => g.First().Data);
        Assert.Equal(E2EVector.All.Select(v => Convert.ToHexString(v.Result)), Enumerable.Range(0, E2EVector.All.Count).Select(i => Convert.ToHexString(first[(uint)(FirstId + i)])));
    }

    // Profiles 2 and 22 count before they send (the published series begin with 1), the others behind.
    [Theory]
    [MemberData(nameof(Profiles))]
    public void Every_sent_frame_is_accepted_in_sequence_and_the_counter_wraps(string name)
    {
        var (profile, ids, length) = Example(name);
        var start = profile.LastCounter > 20 ? $", start: {profile.LastCounter - 5}" : "";
        var payloads = Send(profile, ids, length, 4, start, 40);
        Assert.Equal(40, payloads.Count);
        var receiver = new E2EReceiver(profile, ids, 4);
        Assert.All(payloads, p => Assert.Equal(E2EStatus.Ok, receiver.Check(p)));
        var firstCounter = Send(profile, ids, length, 0, "", 1).Single();
        Assert.Equal(Send(profile, ids, length, 0, $", start: {profile.FirstCounter}", 1).Single(), firstCounter);
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void Every_flipped_bit_is_noticed(string name)
    {
        var (profile, ids, length) = Example(name);
        var payload = Send(profile, ids, length, 3, "", 1).Single();
        for (var bit = 0; bit < payload.Length * 8; bit++)
        {
            var damaged = (byte[])payload.Clone();
            damaged[bit / 8] ^= (byte)(1 << (bit % 8));
            Assert.InRange(new E2EReceiver(profile, ids, 3).Check(damaged), E2EStatus.WrongLength, E2EStatus.WrongCrc);
        }
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void Another_senders_id_is_noticed(string name)
    {
        var (profile, ids, length) = Example(name);
        var payload = Send(profile, ids, length, 0, "", 1).Single();
        Assert.Equal(E2EStatus.Ok, new E2EReceiver(profile, ids).Check(payload));
        Assert.InRange(new E2EReceiver(profile, [.. ids.Select(i => i ^ 0x11)]).Check(payload), E2EStatus.WrongId, E2EStatus.WrongCrc);
    }

    [Theory]
    [MemberData(nameof(Profiles))]
    public void Repeated_and_missing_frames_are_told_apart(string name)
    {
        var (profile, ids, length) = Example(name);
        var sent = Send(profile, ids, length, 0, "", 10);
        var receiver = new E2EReceiver(profile, ids, mostLost: 1);
        Assert.Equal(E2EStatus.Ok, receiver.Check(sent[0]));
        Assert.Equal(E2EStatus.Repeated, receiver.Check(sent[0]));
        Assert.Equal(E2EStatus.Ok, receiver.Check(sent[1]));
        Assert.Equal(E2EStatus.OkSomeLost, receiver.Check(sent[3]));
        Assert.Equal(E2EStatus.WrongSequence, receiver.Check(sent[6]));
        Assert.Equal(E2EStatus.Ok, receiver.Check(sent[7]));
        Assert.Equal(E2EStatus.WrongLength, receiver.Check(sent[8].AsSpan(0, profile.Header - 1)));
        Assert.Equal(E2EStatus.Ok, receiver.Check(sent[8]));
    }

    // The sender never gives this value (4 bits, 0 to 14).
    [Fact]
    public void The_counter_value_that_profile_1_leaves_out_is_refused() =>
        Assert.Equal(E2EStatus.WrongCounter, new E2EReceiver(E2EProfile.Find("1A")!, [0x123]).Check([0, 0x0F, 0, 0]));

    private static (E2EProfile Profile, IReadOnlyList<uint> Ids, int Length) Example(string name)
    {
        var profile = E2EProfile.Find(name)!;
        IReadOnlyList<uint> ids = profile.IdBits is 0 ? [.. Enumerable.Range(0, 16).Select(i => (uint)((i * 37) + 5) & 0xFF)] : [0x0A5];
        return (profile, ids, profile.Header > 10 ? 32 : 16);
    }

    private static List<byte[]> Send(E2EProfile profile, IReadOnlyList<uint> ids, int length, int offset, string start, int count)
    {
        var id = profile.IdBits is 0 ? $"data ids: {string.Join(' ', ids.Select(i => $"{i:X2}"))}" : $"data id: {ids[0]}";
        var payload = string.Join(' ', Enumerable.Range(0, length).Select(i => $"{i * 29 & 0xFF:X2}"));
        var frame = $"  F: {{id: 0x100, format: fd, length: {length}, every: 10 ms, base: {payload}, protect: {{profile: {profile.Name}, {id}, offset: {offset}{start}}}}}\n";
        return [.. Simulator.Run([Plan(frame)], new Stimulus { EndUs = (count * 10_000) - 5_000 }).Frames.Select(f => f.Data)];
    }

    private static BoardPlan Plan(string frames)
    {
        var (module, found) = Descriptions.Bind($"locum: 1\nmodule: test\nhazard: none\nbuses: {{body: {{rate: 500 kbit/s, data rate: 4 Mbit/s}}}}\nframes:\n{frames}");
        Assert.Empty(found);
        var bag = new DiagnosticBag();
        var plan = BoardPlanner.Plan(BoardPlanner.Alone(module), bag);
        Assert.Empty(bag.Sorted);
        return plan!;
    }
}
