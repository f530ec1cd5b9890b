using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class TimingSolverTests
{
    private static readonly TimingController[] s_fd = [.. TimingController.All.Where(c => c.Fd)];

    public static TheoryData<string> Names => [.. TimingController.All.Select(c => c.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_controller_makes_the_usual_rates_from_40_MHz(string name)
    {
        var controller = TimingController.Find(name)!;
        foreach (var rate in new[] { 125_000, 250_000, 500_000, 1_000_000 })
        {
            var choice = TimingSolver.Solve(controller, 40_000_000, new TimingRequest(rate, 800));

            Assert.NotNull(choice);
            Assert.True(choice.Nominal.IsExact(rate), $"{rate}: {choice}");
            Assert.True(controller.Limits(40_000_000).Allows(choice.Nominal));
            Assert.NotEmpty(controller.Encode(choice));
        }
    }

    [Fact]
    public void Classic_controllers_have_no_data_phase() =>
        Assert.All(TimingController.All.Where(c => !c.Fd), c => Assert.Null(TimingSolver.Solve(c, 40_000_000, new TimingRequest(500_000, 800, 2_000_000))));

    [Fact]
    public void Both_phases_keep_their_limits_and_rates() =>
        Gen.Select(
            Gen.Int[0, s_fd.Length - 1].Select(i => s_fd[i]), Gen.OneOf(20_000_000L, 24_000_000, 40_000_000, 60_000_000, 80_000_000),
            Gen.OneOf(125_000L, 250_000, 500_000, 1_000_000), Gen.OneOf(1_000_000L, 2_000_000, 4_000_000, 5_000_000, 8_000_000), Gen.Int[600, 900]).Sample((controller, clock, rate, dataRate, point) =>
        {
            var request = new TimingRequest(rate, point, dataRate, point);
            if (TimingSolver.Solve(controller, clock, request) is not { } choice)
                return;
            Assert.True(controller.Limits(clock).Allows(choice.Nominal), choice.ToString());
            Assert.True(choice.Data is { } data && controller.DataLimits is { } limits && limits(clock).Allows(data), choice.ToString());
            Assert.InRange(choice.Nominal.RateErrorPpm(rate), -1000, 1000);
            Assert.InRange(choice.Data.RateErrorPpm(dataRate), -1000, 1000);
            Assert.Equal(5, choice.Conditions.Count);
            if (choice.Compensation is { } compensation)
                Assert.InRange(compensation.Offset, 1, controller.Compensation!.OffsetMax);
            else
                Assert.True(dataRate <= 1_000_000 || choice.Data.Brp > 2 || !DelayCompensation.IsNeeded(choice.Data), choice.ToString());
        });

    [Fact]
    public void Both_phases_share_the_prescaler_where_they_can()
    {
        // 80 MHz: 160 quanta do not fit FlexCAN's 129, so both phases take a prescaler of 2.
        var choice = TimingSolver.Solve(TimingController.Find("flexcan-fd")!, 80_000_000, new TimingRequest(500_000, 800, 2_000_000, 800));

        Assert.Equal((2, 2), (choice?.Nominal.Brp, choice?.Data?.Brp));
    }

    [Fact]
    public void Alternatives_begin_with_the_choice_and_have_each_prescaler_once()
    {
        var limits = BxCanRegisters.Limits(36_000_000);
        var alternatives = BitTimingSolver.Alternatives(limits, 500_000, 875);

        Assert.Equal(BitTimingSolver.Solve(limits, 500_000, 875), alternatives[0]);
        Assert.Equal([3, 4, 6, 8, 9], alternatives.Select(t => t.Brp).Order());
    }
}
