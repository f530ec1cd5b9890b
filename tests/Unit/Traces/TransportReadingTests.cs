using Locum.Pipeline;
using Locum.Simulation;
using Locum.Traces;
using Xunit;

namespace Locum.Tests.Unit.Traces;

/// <summary>
/// What the demo modules answer, read by tshark: its own reassembly of ISO 15765-2 and its own reading of ISO 14229-1.
/// The version at hand puts classic frames together, of CAN FD only single ones.
/// </summary>
public sealed class TransportReadingTests
{
    private static readonly string[] s_options = ["-d", "can.subdissector,iso15765", "-d", "iso15765.subdissector,uds"];
    private static readonly string[] s_services = ["can.id", "uds.sid", "uds.rdbi.data_identifier", "uds.rdbi.data_record", "uds.err.sid", "uds.err.code"];

    [Fact]
    public void The_parcel_doors_answers_are_read_by_another_program() =>
        Assert.Equal(
            [
                "3e", "22 f195 0204", "22 f190 4445504f54303030303030304c4f434f31", "22 f195 0204", "3f 22 78", "22 0201 00015f900000c350",
                "22 f187 50442d30343137f1904445504f54303030303030304c4f434f31f1950204f18750442d30343137", "3f 31 11", "3f 22 31", "3f 10 12", "10", "85", "19", "14", "3f 85 7f",
            ],
            Services("rear", 0x763));

    // An answer to reading several identifiers is to tshark one long record.
    [Fact]
    public void Long_single_frames_of_can_fd_are_read_by_another_program() =>
        Assert.Equal(
            [
                "3e", "22 f190 4445504f54303030303030304c4f434f31", "22 f18c 54552d322d303030373331", "22 f18c 54552d322d303030373331", "22 f18c 54552d322d303030373331",
                "3f 27 33", "3f 31 11", "10",
            ],
            Services("roof", 0x18DAF151));

    // Kind, length of what a first frame begins, number; flow controls: kind, status, block size, separation as coded.
    [Fact]
    public void Frames_of_many_bytes_are_told_apart_by_another_program()
    {
        string[] fields = ["can.id", "iso15765.message_type", "iso15765.frame_length", "iso15765.sequence_number", "iso15765.flow_status", "iso15765.flow_control.bs", "iso15765.flow_control.stmin"];
        Assert.Equal(["1 33", "2 1", "1 73", "2 1", "2 2", "3 0 2 1"], Read("roof", 0x18DAF151, fields).Select(Numbers).Where(l => l[0] is not '0'));
        Assert.Equal(["1 20", "2 1", "2 2", "1 11", "2 1", "3 0 4 2", "1 42", "2 1", "2 2", "2 3", "2 4", "2 5", "2 6"], Read("rear", 0x763, fields).Select(Numbers).Where(l => l[0] is not '0'));
    }

    private static IEnumerable<string> Services(string board, uint id) =>
        Read(board, id, s_services).Where(r => r[0].Length > 0).Select(r => string.Join(' ', r.Where(f => f.Length > 0)).Replace("0x", "", StringComparison.Ordinal));

    private static string Numbers(string[] row) => string.Join(' ', row.Where(f => f.Length > 0).Select(f => f.StartsWith("0x", StringComparison.Ordinal) ? Convert.ToInt32(f, 16) : int.Parse(f)));

    // The fields behind the identifier, of the frames that have it.
    private static IEnumerable<string[]> Read(string board, uint id, string[] fields)
    {
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        Assert.Empty(loaded.Diagnostics.Sorted);
        var plan = loaded.Plans.Single(p => p.Name == board);
        var frames = Simulator.Run([plan], loaded.Stimuli[board]).Frames.Where(f => f.EndUs >= 0).OrderBy(f => f.EndUs);
        using var stream = new MemoryStream();
        PcapNgTrace.Write(stream, [.. plan.Buses.Select(b => b.Name)], frames);
        return Tshark.Read(stream.ToArray(), s_options, fields).Where(r => r[0] == $"{id}").Select(r => r[1..]);
    }
}
