using System.Text;
using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Proving;

/// <summary>Words for the first frame that differs: both frames in full, what is different, and what came before.</summary>
internal static class Difference
{
    private const int Context = 3;

    public static string Describe(BoardPlan plan, int index, PrintedFrame? wanted, PrintedFrame? got, IReadOnlyList<PrintedFrame> all)
    {
        var text = new StringBuilder();
        text.Append($"frame {index + 1}:\n");
        for (var i = Math.Max(0, index - Context); i < index; i++)
            text.Append($"  both       {Line(plan, all[i])}\n");
        text.Append($"  simulator  {Line(plan, wanted)}\n");
        text.Append($"  program    {Line(plan, got)}\n");
        if (wanted is null || got is null)
            return text.ToString();
        if (wanted.Bus != got.Bus || wanted.Id != got.Id)
            text.Append("  another frame, or another order\n");
        else
            Parts(plan, wanted, got, text);
        return text.ToString();
    }

    private static void Parts(BoardPlan plan, PrintedFrame wanted, PrintedFrame got, StringBuilder text)
    {
        if (wanted.Format != got.Format)
            text.Append($"  format: {FormatWords.Of(wanted.Format)} against {FormatWords.Of(got.Format)}\n");
        Time("accepted", wanted.AcceptedUs, got.AcceptedUs);
        Time("start", wanted.StartUs, got.StartUs);
        Time("end", wanted.EndUs, got.EndUs);
        if (wanted.Data.Length != got.Data.Length)
        {
            text.Append($"  length: {wanted.Data.Length} against {got.Data.Length} bytes\n");
            return;
        }
        var planned = plan.Frames.FirstOrDefault(f => plan.Buses[f.Bus].Name == wanted.Bus && f.Frame.Id == wanted.Id);
        foreach (var field in planned?.Frame.AllFields ?? [])
            if (field.ReadBits(wanted.Data) is var left && field.ReadBits(got.Data) is var right && left != right)
                text.Append($"  field {field.Name}: 0x{left:X} against 0x{right:X}\n");
        for (var b = 0; b < wanted.Data.Length; b++)
            if (wanted.Data[b] != got.Data[b])
                text.Append($"  byte {b}: {wanted.Data[b]:X2} against {got.Data[b]:X2}\n");

        void Time(string what, double left, double right)
        {
            if (left != right)
                text.Append($"  {what}: {right - left:+0.###;-0.###} us\n");
        }
    }

    private static string Line(BoardPlan plan, PrintedFrame? frame)
    {
        if (frame is null)
            return "(no frame)";
        var onBus = plan.Frames.Where(f => plan.Buses[f.Bus].Name == frame.Bus).ToList();
        // A node's frames have identifiers of their own, with its address as source.
        var name = (onBus.Find(f => f.Frame.Id == frame.Id) ?? onBus.Find(f => f.Frame.IsNode && frame.Id.Extended && (byte)f.Frame.Id.Value == (byte)frame.Id.Value))?.Frame.Name ?? "unknown";
        var end = frame.EndUs < 0 ? "not sent" : $"{frame.StartUs}..{frame.EndUs} us";
        return $"{frame.AcceptedUs} us  {frame.Bus} {frame.Id} {name} [{BitConverter.ToString(frame.Data).Replace('-', ' ')}] {end}";
    }
}
