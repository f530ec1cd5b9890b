using Locum.Capture;

namespace Locum.Inference.Transport;

/// <summary>
/// Recognises transport protocols: ISO 15765-2 (normal addressing; code points as tests/Unit/Simulation know them) by its frames'
/// first bytes, SAE J1939-21 by its parameter groups. Never more than possible: any byte may look so.
/// </summary>
public static class TransportFinder
{
    private const int ShortestFrame = 3;
    private const double MostFrames = 0.98;
    private const int FirstFrameBytes = 6;
    private const int FollowingBytes = 7;

    /// <summary>What the frames look like; null when they look like plain ones.</summary>
    public static TransportFinding? Find(FrameSeries series)
    {
        if (series.Id.Extended && (series.Id.Value >> 16 & 0xFF) is 0xEB or 0xEC)
            return new TransportFinding("segments of SAE J1939-21", series.Count, 0);
        int valid = 0;
        int messages = 0;
        int missing = 0;
        int number = 0;
        for (int i = 0; i < series.Count; i++)
        {
            var data = series.Data(i);
            if (data.Length < ShortestFrame)
                continue;
            int low = data[0] & 0x0F;
            switch (data[0] >> 4)
            {
                case 0 when low >= 1 && low < data.Length && low <= FollowingBytes:
                    valid++;
                    missing = 0;
                    break;
                case 1 when data.Length >= 8 && ((low << 8) | data[1]) > FollowingBytes:
                    valid++;
                    missing = (((low << 8) | data[1]) - FirstFrameBytes + FollowingBytes - 1) / FollowingBytes;
                    number = 1;
                    break;
                case 2 when missing > 0 && low == number:
                    valid++;
                    number = (number + 1) & 0x0F;
                    if (--missing is 0)
                        messages++;
                    break;
                case 3 when low <= 2:
                    valid++;
                    break;
                default:
                    missing = 0;
                    break;
            }
        }
        bool looks = valid >= MostFrames * series.Count && (messages > 0 || IsTesterPair(series));
        return looks ? new TransportFinding("segments of ISO 15765-2, diagnostics perhaps", series.Count, messages) : null;
    }

    // Identifiers of ISO 15765-4 (from memory): 0x7DF and 0x7E0..0x7EF; with 29 bits 0x18DAxxxx and 0x18DBxxxx.
    private static bool IsTesterPair(FrameSeries series) => series.Id.Extended
        ? series.Id.Value >> 16 is 0x18DA or 0x18DB
        : series.Id.Value is 0x7DF or (>= 0x7E0 and <= 0x7EF);
}
