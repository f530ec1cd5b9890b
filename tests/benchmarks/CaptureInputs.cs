using System.Globalization;
using System.Text;
using Locum.Capture;
using Locum.Traces;
using Locum.Wire;

namespace Locum.Benchmarks;

/// <summary>Captures to be read: a busy bus with twelve identifiers, random payloads, written in every form.</summary>
internal static class CaptureInputs
{
    private static readonly uint[] s_ids = [0x0C4, 0x155, 0x2D1, 0x2D2, 0x2D3, 0x3B8, 0x5E0, 0x6A0, 0x7E8, 0x0CF00400, 0x18FEF100, 0x18FF50E5];
    private static readonly int[] s_lengths = [8, 8, 8, 8, 8, 8, 8, 4, 5, 2, 8, 3];

    /// <summary>Forms that can be written.</summary>
    public static IReadOnlyList<string> Forms { get; } = ["text log", "table, columns", "table, packed", "table, blanks", "JSON lines", "pcap", "pcapng"];

    /// <summary>So many frames in one form.</summary>
    public static byte[] Write(string form, int frames)
    {
        var random = new Random(7);
        using var stream = new MemoryStream();
        using var text = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true) { NewLine = "\n" };
        using var log = new TextLogSink(stream);
        IBusSink? sink = form switch { "text log" => log, "pcapng" => new PcapNgSink(stream), _ => null };
        sink?.Bus(0, "can0");
        sink?.Bus(1, "can1");
        if (form is "pcap")
            Words(stream, 0xA1B2C3D4, 0x0004_0002, 0, 0, 65535, 227);
        else if (form is "table, columns")
            text.WriteLine("Time Stamp,ID,Extended,Dir,Bus,LEN,D1,D2,D3,D4,D5,D6,D7,D8");
        else if (form is "table, packed")
            text.WriteLine("timestamp,arbitration_id,extended,dlc,data");
        long us = 0;
        var data = new byte[8];
        for (int i = 0; i < frames; i++)
        {
            us += random.Next(150, 900);
            int which = random.Next(s_ids.Length);
            random.NextBytes(data);
            One(form, text, sink, stream, us, i % 4 is 0 ? 1 : 0, s_ids[which], data.AsSpan(0, s_lengths[which]));
        }

        log.Dispose();
        text.Flush();
        return stream.ToArray();
    }

    private static void One(string form, StreamWriter text, IBusSink? sink, Stream stream, long us, int bus, uint id, ReadOnlySpan<byte> data)
    {
        bool extended = id > CanId.MaxStandard;
        string time = string.Create(CultureInfo.InvariantCulture, $"{us / 1_000_000}.{us % 1_000_000:D6}");
        string hex = Convert.ToHexString(data);
        string bytes = string.Join(' ', Enumerable.Range(0, data.Length).Select(i => hex.Substring(2 * i, 2)));
        switch (form)
        {
            case "table, columns":
                text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{us},{id:X8},{(extended ? "true" : "false")},Rx,{bus},{data.Length},{bytes.Replace(' ', ',')}{new string(',', 8 - data.Length)},"));
                break;
            case "table, packed":
                text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{time},0x{id:X},{(extended ? 1 : 0)},{data.Length},{hex}"));
                break;
            case "table, blanks":
                text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{time} can{bus} {(extended ? $"{id:X8}" : $"{id:X3}")} {data.Length} {bytes}"));
                break;
            case "JSON lines":
                text.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{{\"time\":{time},\"bus\":\"can{bus}\",\"id\":\"0x{id:X}\",\"data\":\"{hex}\"}}"));
                break;
            case "pcap":
                Words(stream, (uint)(us / 1_000_000), (uint)(us % 1_000_000), 16, 16);
                var packet = new byte[16];
                System.Buffers.Binary.BinaryPrimitives.WriteUInt32BigEndian(packet, id | (extended ? 0x8000_0000 : 0));
                packet[4] = (byte)data.Length;
                data.CopyTo(packet.AsSpan(8));
                stream.Write(packet);
                break;
            default:
                sink!.Take(new CaptureFrame(us * 1000, bus, id, extended ? FrameTraits.Extended : FrameTraits.None, (byte)data.Length), data);
                break;
        }
    }

    private static void Words(Stream stream, params ReadOnlySpan<uint> words)
    {
        foreach (uint word in words)
            stream.Write(BitConverter.GetBytes(word));
    }
}
