using Locum.Protection;
using Xunit;

namespace Locum.Tests.Unit.Protection;

/// <summary>The states of AUTOSAR's receiver state machine (PRS_E2EProtocol, from memory), step by step.</summary>
public sealed class E2EStateMachineTests
{
    private static readonly E2EWindow s_limits = new(4, 2, 1, 1, 1, 3, 0);

    private readonly E2EStateMachine _machine = new(s_limits);

    [Fact]
    public void Nothing_usable_is_no_data()
    {
        Assert.Equal([E2EState.NoData, E2EState.NoData, E2EState.NoData], Take(null, E2EStatus.WrongCrc, E2EStatus.WrongLength));
        Assert.Equal([E2EState.Init], Take(E2EStatus.Ok));
    }

    // A repeated counter is something, though not good.
    [Fact]
    public void Anything_but_an_error_begins_to_count() => Assert.Equal([E2EState.Init], Take(E2EStatus.Repeated));

    [Fact]
    public void Enough_good_ones_are_valid() =>
        Assert.Equal([E2EState.Init, E2EState.Init, E2EState.Valid], Take(E2EStatus.Ok, E2EStatus.Ok, E2EStatus.OkSomeLost));

    [Fact]
    public void Too_many_errors_in_the_beginning_are_invalid() =>
        Assert.Equal([E2EState.Init, E2EState.Init, E2EState.Invalid], Take(E2EStatus.Ok, E2EStatus.WrongCrc, E2EStatus.WrongCrc));

    [Fact]
    public void Valid_stands_one_error_and_not_two()
    {
        Take(E2EStatus.Ok, E2EStatus.Ok, E2EStatus.Ok);
        Assert.Equal([E2EState.Valid, E2EState.Invalid], Take(E2EStatus.WrongCrc, E2EStatus.WrongId));
    }

    // The window holds four: the last good one leaves it with the fourth that is none.
    [Fact]
    public void Silence_repeats_and_jumps_are_no_errors_but_nothing_good_either()
    {
        Take(E2EStatus.Ok, E2EStatus.Ok, E2EStatus.Ok);
        Assert.Equal([E2EState.Valid, E2EState.Valid, E2EState.Valid, E2EState.Invalid], Take(null, E2EStatus.Repeated, E2EStatus.WrongSequence, null));
    }

    [Fact]
    public void Recovery_wants_the_errors_out_of_the_window()
    {
        Take(E2EStatus.Ok, E2EStatus.Ok, E2EStatus.Ok, E2EStatus.WrongCrc, E2EStatus.WrongCrc);
        Assert.Equal([E2EState.Invalid, E2EState.Invalid, E2EState.Invalid, E2EState.Valid], Take(E2EStatus.Ok, E2EStatus.Ok, E2EStatus.Ok, E2EStatus.Ok));
    }

    private List<E2EState> Take(params E2EStatus?[] statuses) => [.. statuses.Select(_machine.Take)];
}
