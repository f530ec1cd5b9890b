using Locum.Binding;
using Locum.Model;

namespace Locum.Rendering.Views;

internal static class CounterViews
{
    public static CounterView Of(Counter counter, int index, int number)
    {
        var bits = counter.Highest <= 0xFF ? 8 : counter.Highest <= 0xFFFF ? 16 : 32;
        var down = counter.From > counter.To;
        var way = (uint)((counter.Count - 1) * counter.Step);
        var last = down ? counter.From - way : counter.From + way;
        // The number keeps names apart that differ only in how frame and field names are joined.
        var c = $"count{number}_{Names.ToC(counter.Name)}";
        return new CounterView(index, CText.Comment(counter.Name), c, $"uint{bits}_t", $"{counter.From}u", $"{counter.To}u", $"{last}u", $"{counter.Step}u", down ? "-" : "+", $"{counter.Start}u", counter.Every is 1 ? "" : $"{counter.Every}u");
    }
}
