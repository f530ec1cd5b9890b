using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Binding;

internal static class BusBinder
{
    public const int DefaultSamplePoint = 875;

    /// <summary>Common practice, no source.</summary>
    public const int DefaultDataSamplePoint = 750;

    /// <summary>More than any board has controllers.</summary>
    public const int Most = 16;

    public static void Bind(MappingReader module, Bound bound)
    {
        var entries = module.Named("buses", "buses");
        if (!module.Has("buses"))
            module.Required("buses", "name the buses: 'buses: {body: {rate: 500 kbit/s}}'");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module has at most {Most} buses", "split the module in two");
        foreach (var (key, value) in entries.Take(Most))
        {
            var name = Scalars.Name(key, bound.Diagnostics, "a bus");
            var reader = new MappingReader(value, bound.Diagnostics, "a bus");
            var rateNode = reader.Required("rate", "give the bit rate, such as 'rate: 500 kbit/s'");
            var rate = Scalars.WithUnit(rateNode, bound.Diagnostics, "a bit rate", Quantity.Rate, "500 kbit/s or 33.333 kbit/s");
            if (rate is < 5_000 or > 1_000_000)
                bound.Diagnostics.Add(Codes.BadRate, rateNode!.Span, $"{rate} bit/s is not a bit rate of classic CAN", "choose a rate from 5 kbit/s to 1 Mbit/s");
            var sampleNode = reader.Optional("sample point");
            var sample = Scalars.WithUnit(sampleNode, bound.Diagnostics, "a sample point", Quantity.Permille, "87.5 %");
            if (sample is < 500 or > 950)
                bound.Diagnostics.Add(Codes.OutOfRange, sampleNode!.Span, $"a sample point of {sample / 10.0} % lies outside 50 to 95 %", "87.5 % is the usual choice (CiA 301)");
            var dataRate = BindDataRate(reader, rate, bound.Diagnostics);
            var dataSampleNode = reader.Optional("data sample point");
            var dataSample = Scalars.WithUnit(dataSampleNode, bound.Diagnostics, "a sample point", Quantity.Permille, "75 %");
            if (dataSample is < 500 or > 950)
                bound.Diagnostics.Add(Codes.OutOfRange, dataSampleNode!.Span, $"a sample point of {dataSample / 10.0} % lies outside 50 to 95 %", "75 % is a usual choice at 2 Mbit/s");
            if (dataSampleNode is not null && dataRate is null && !reader.Has("data rate"))
                bound.Diagnostics.Add(Codes.FdMismatch, reader.SpanOf("data sample point"), "there is a data sample point but no data rate", "add 'data rate: 2 Mbit/s', or remove the line");
            reader.Done();
            bound.Buses.Add(new Bus(name ?? key.Value, (int)Math.Clamp(rate ?? 500_000, 5_000, 1_000_000), (int)(sample ?? DefaultSamplePoint), key.Span)
            {
                DataRate = dataRate,
                DataSamplePoint = (int)(dataSample ?? DefaultDataSamplePoint),
            });
        }
        bound.CheckClashes(bound.Buses.Select(b => (b.Name, b.Span)), "buses");
    }

    private static int? BindDataRate(MappingReader reader, long? rate, DiagnosticBag diagnostics)
    {
        var node = reader.Optional("data rate");
        if (Scalars.WithUnit(node, diagnostics, "a bit rate", Quantity.Rate, "2 Mbit/s") is not { } dataRate)
            return null;
        var least = Math.Clamp(rate ?? 5_000, 5_000, 1_000_000);
        if (dataRate < least || dataRate > 8_000_000)
            diagnostics.Add(Codes.BadRate, node!.Span, $"{dataRate} bit/s is not a data rate for CAN FD at {least} bit/s", "choose a rate from the bus' own bit rate to 8 Mbit/s");
        return (int)Math.Clamp(dataRate, least, 8_000_000);
    }
}
