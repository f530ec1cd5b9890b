namespace Locum.Wire;

/// <summary>Finds the bit timing of a bus on a controller, with both phases of CAN FD.</summary>
public static class TimingSolver
{
    // Fewer, longer quanta have no advantage with the wide registers of CAN FD controllers.
    private const int AsManyAsPossible = int.MaxValue;
    private const double SamplePointStep = 10;

    /// <summary>The choice, or null when the controller cannot make the rates (or has no data phase).</summary>
    /// <param name="controller">Family of the controller.</param>
    /// <param name="clockHz">Its clock.</param>
    /// <param name="request">The bus.</param>
    public static TimingChoice? Solve(TimingController controller, long clockHz, TimingRequest request)
    {
        var limits = controller.Limits(clockHz);
        if (request.DataRate is { } dataRate)
            return controller.DataLimits is { } data ? SolveFd(controller, limits, data(clockHz), request, dataRate) : null;
        var timing = BitTimingSolver.Solve(limits, request.Rate, request.SamplePoint, preferredQuanta: Preferred(limits));
        return timing is null ? null : new TimingChoice(timing, null, null, ClockTolerance.Classic(timing, limits));
    }

    /// <summary>How many quanta per bit are preferred with these limits.</summary>
    public static int Preferred(BitTimingLimits limits) => limits.QuantaMax > 25 ? AsManyAsPossible : BitTimingSolver.CustomaryQuanta;

    // One prescaler for both phases keeps the quantum, and with it the phase, across the switch of rates; a data phase
    // whose transmitter must compensate its delay has a prescaler of 1 or 2.
    private static TimingChoice? SolveFd(TimingController controller, BitTimingLimits limits, BitTimingLimits dataLimits, TimingRequest request, long dataRate)
    {
        var choices = new List<TimingChoice>();
        Add(limits, dataLimits);
        Add(limits, dataLimits with { BrpMax = CompensationLimits.MostPrescaler });
        for (var brp = 1; brp <= Math.Min(limits.BrpMax, dataLimits.BrpMax); brp++)
            Add(limits with { BrpMin = brp, BrpMax = brp }, dataLimits with { BrpMin = brp, BrpMax = brp });
        return choices.OrderBy(c => c.Compensation is null && DelayCompensation.IsNeeded(c.Data!, request.LoopDelayNs))
            .ThenBy(c => Math.Round(Math.Abs(c.Nominal.RateErrorPpm(request.Rate)) + Math.Abs(c.Data!.RateErrorPpm(dataRate)), 3))
            .ThenBy(c => Math.Ceiling(Math.Abs(c.Nominal.SamplePointPermille - request.SamplePoint) / SamplePointStep) + Math.Ceiling(Math.Abs(c.Data!.SamplePointPermille - request.DataSamplePoint) / SamplePointStep))
            .ThenBy(c => c.Nominal.Brp != c.Data!.Brp)
            .ThenBy(c => c.Data!.Brp)
            .FirstOrDefault();

        void Add(BitTimingLimits first, BitTimingLimits second)
        {
            if (BitTimingSolver.Solve(first, request.Rate, request.SamplePoint, preferredQuanta: Preferred(first)) is not { } nominal
                || BitTimingSolver.Solve(second, dataRate, request.DataSamplePoint, preferredQuanta: AsManyAsPossible) is not { } data)
                return;
            var compensation = controller.Compensation is { } able ? DelayCompensation.For(data, dataRate, able, request.LoopDelayNs) : null;
            choices.Add(new TimingChoice(nominal, data, compensation, ClockTolerance.Fd(nominal, limits, data)));
        }
    }
}
