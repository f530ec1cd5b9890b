using Locum.Binding;
using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Rendering.Views;

/// <summary>Plan → view: every name, number and line that templates need.</summary>
internal static class BoardViews
{
    private const int Width = 92;

    public static BoardView Of(BoardPlan plan, string project, string version, IReadOnlyList<string> sources)
    {
        var inputs = plan.Inputs.Select(Input).ToList();
        var cautions = plan.Cautions.SelectMany(c => CText.Wrap(c, Width)).ToList();
        var modules = plan.Modules.Select(m => ModuleViews.Of(m, plan, inputs, Banners.Of(m.Module, version))).ToList();
        var receives = ReceiveViews.Rows(plan);
        var triggers = EventViews.Triggers(plan, modules);
        return new BoardView(
            new NamedView(CText.Comment(project), ""),
            new NamedView("Locum", version),
            new BoardFactsView(CText.Comment(plan.Name), plan.Kind.Name.Split('-')[0], plan.Kind.ClockHz, plan.Kind.Mailboxes, plan.Kind.FlashBytes, plan.Kind.DataBytes, plan.Kind.RamBytes, plan.Kind.StackBytes, plan.Kind.Words),
            Config(plan, receives, triggers),
            GuardViews.Of(plan),
            Banners.Of(plan, project, version),
            cautions,
            sources,
            [.. plan.Buses.Select(b => Bus(b, plan))],
            inputs,
            plan.Led is null ? null : Pin(plan.Led),
            modules,
            [.. plan.Frames.Select(f => Row(f, modules))],
            receives,
            EventViews.Rows(plan),
            triggers,
            $"0x{plan.Inputs.Where(i => !i.ActiveHigh).Sum(i => 1 << i.Index):X4}u")
        {
            Outputs = [.. plan.Outputs.Select(o => OutputViews.Of(o, inputs))],
            OutputsLow = OutputViews.Low(plan),
            Channels = ChannelViews.Of(plan),
            Nodes = NodeViews.Of(plan),
        };
    }

    private static ConfigView Config(BoardPlan plan, IReadOnlyList<ReceiveRowView> receives, IReadOnlyList<TriggerView> triggers) => new(
        plan.Buses.Any(b => b.DataRate is not null) ? FdLengths.Most : 8,
        receives.Count,
        plan.Frames.Count(f => f.Frame.Events is not null),
        triggers.Count,
        plan.Frames.Any(f => f.Frame.PeriodByMode.Count > 0) ? 1 : 0,
        plan.Frames.Any(f => f.Frame.Burst is not null) ? 1 : 0,
        plan.Frames.Any(f => f.Frame.AllFields.Any(l => l.Source is LiveValue)) ? 1 : 0)
    {
        Outputs = plan.Outputs.Count,
        Laps = ModuleViews.HasLaps(plan) ? 1 : 0,
        Listens = receives.Count > 0 || plan.Guards.Foreign ? 1 : 0,
        Channels = plan.Modules.Sum(m => m.Module.Channels.Count),
        ChannelFd = ChannelViews.HasFd(plan) ? 1 : 0,
        ChannelSlow = ChannelViews.IsSlow(plan) ? 1 : 0,
        AnswerBytes = ChannelViews.AnswerBytes(plan),
        Nodes = plan.Modules.Sum(m => m.Module.Nodes.Count),
        NodeAnswers = NodeViews.MostAnswers(plan),
        NodeTransfers = plan.Modules.Any(m => m.Module.Nodes.Any(n => n.Connection is not null)) ? 1 : 0,
    };

    private static BusView Bus(PlannedBus bus, BoardPlan plan)
    {
        var registers = new Dictionary<string, string>(StringComparer.Ordinal);
        IReadOnlyList<FilterBankView> filters = [];
        var elements = new FdCanFilters([], []);
        if (bus.Timing is not null && bus.ControllerKind is "mcp2515")
        {
            var values = Mcp2515Registers.Encode(bus.Timing);
            registers["cnf1"] = $"0x{values.Cnf1:X2}";
            registers["cnf2"] = $"0x{values.Cnf2:X2}";
            registers["cnf3"] = $"0x{values.Cnf3:X2}";
            FilterViews.AddMcp2515(bus, plan, registers);
        }
        else if (bus.Timing is not null && bus.ControllerKind is "fdcan")
        {
            registers["nbtp"] = $"0x{FdCanRegisters.Encode(bus.Timing):X8}u";
            registers["dbtp"] = bus.Choice is not { Data: { } data } both ? "0u" : $"0x{FdCanRegisters.EncodeData(data, both.Compensation):X8}u";
            registers["tdcr"] = $"0x{FdCanRegisters.EncodeCompensation(bus.Choice?.Compensation):X8}u";
            elements = FilterViews.FdCan(bus, plan);
        }
        else if (bus.Timing is not null && bus.ControllerKind is "mcp2518fd")
        {
            filters = Mcp2518FdViews.Add(bus, plan, registers);
        }
        else if (bus.ControllerKind is "own")
        {
            registers["sample"] = $"{bus.SamplePoint}";
            filters = FilterViews.Plain(bus, plan);
        }
        else if (bus.ControllerKind is "socketcan")
        {
            filters = SocketCanViews.Add(bus, plan, registers);
        }
        else if (bus.Timing is not null && bus.ControllerKind is "twai")
        {
            var filter = TwaiSettings.Filter(FilterViews.Patterns(bus, plan));
            registers["timing"] = $"{bus.Timing.Brp}u, {bus.Timing.Tseg1}u, {bus.Timing.Tseg2}u, {bus.Timing.Sjw}u";
            registers["code"] = $"0x{filter.Code:X8}";
            registers["mask"] = $"0x{filter.Mask:X8}";
        }
        else if (bus.Timing is not null && bus.ControllerKind is "sam3x")
        {
            Sam3xViews.Add(bus, plan, registers);
        }
        else if (bus.Timing is not null && bus.ControllerKind is "flexcan")
        {
            FlexCanViews.Add(bus, plan, registers);
        }
        else if (bus.Timing is not null)
        {
            registers["btr"] = $"0x{BxCanRegisters.Encode(bus.Timing):X8}";
            filters = FilterViews.BxCan(bus, plan, registers);
        }
        return new BusView(
            bus.Index,
            CText.Comment(bus.Name),
            bus.Rate,
            bus.DataRate ?? bus.Rate,
            $"{bus.SamplePoint / 10.0:0.0} %",
            Words(bus.Timing),
            bus.Settings.ToDictionary(s => s.Key, s => CText.Comment(s.Value), StringComparer.Ordinal),
            registers,
            bus.Pins.ToDictionary(p => p.Key, p => Pin(p.Value), StringComparer.Ordinal),
            filters)
        {
            OnSpi = plan.Kind.IsOnSpi(bus.Controller),
            RecoveryUs = BusOffRecovery.Us(bus.Rate),
            DataTiming = Words(bus.Choice?.Data),
            StandardFilters = [.. elements.Standard.Select(e => $"0x{e:X8}u")],
            ExtendedFilters = [.. elements.Extended.Select(e => new FilterBankView($"0x{e.F0:X8}u", $"0x{e.F1:X8}u"))],
        };
    }

    private static string Words(BitTiming? timing) =>
        timing is null ? "" : $"{timing.Rate:0} bit/s, {timing.Quanta} quanta, sample point {timing.SamplePointPermille / 10:0.0} %, SJW {timing.Sjw}";

    private static string Marks(FrameFormat format) => format switch
    {
        FrameFormat.Classic => "",
        FrameFormat.Fd => " | LOCUM_ID_FD",
        FrameFormat.FdSwitched => " | LOCUM_ID_FD | LOCUM_ID_SWITCH_RATE",
        _ => throw new ArgumentOutOfRangeException(nameof(format)),
    };

    private static InputView Input(PlannedInput input)
    {
        var pin = input.Pin is null ? null : Pin(input.Pin);
        return new InputView(
            input.Index,
            CText.Comment(input.Name),
            $"input_{Names.ToC(input.Name)}",
            pin?.Name ?? "",
            pin?.PortLetter ?? "",
            pin?.PortBit ?? 0,
            input.Pull,
            input.ActiveHigh ? "high" : "low",
            input.DebounceUs,
            CText.Time(input.DebounceUs));
    }

    internal static PinView Pin(PlannedPin pin)
    {
        // Port pins are written PB5 or PB12.
        var letter = pin.PortPin[1];
        return new PinView(pin.Name, letter.ToString(), int.Parse(pin.PortPin.AsSpan(2)));
    }

    private static RowView Row(PlannedFrame planned, List<ModuleView> modules)
    {
        var frame = planned.Frame;
        var module = modules[planned.Owner.Index];
        var view = module.Frames[planned.Owner.Module.Frames.ToList().IndexOf(frame)];
        var id = frame.Id.Extended ? $"0x{frame.Id.Value:X8}u | LOCUM_ID_EXTENDED" : $"0x{frame.Id.Value:X3}u";
        var modes = frame.Modes.Aggregate(0u, (set, m) => set | 1u << m);
        return new RowView(
            view.Comment,
            frame.IsNode ? "LOCUM_ID_NODE" : id + Marks(frame.Format),
            frame.PeriodUs,
            frame.OffsetUs,
            $"0x{modes:X8}u",
            $"MODULE_{module.Upper}",
            planned.Bus,
            frame.Length,
            frame.IsDescribed ? $"{view.C}_compose" : "0",
            view.Sent.Count > 0 || view.Pages.Count > 0 ? $"{view.C}_sent" : "0",
            view.Skips ? $"{view.C}_skipped" : "0",
            view.Starts ? $"{view.C}_started" : "0",
            frame.PeriodByMode.Count > 0 ? $"{view.C}_periods_us" : "0",
            frame.Burst?.PeriodUs ?? 0,
            frame.Burst?.Count ?? 0,
            view.Live.Count > 0 ? $"{view.C}_released" : "0");
    }
}
