using Locum.Auditing;
using Locum.Tests.Unit.Capture;
using Xunit;

namespace Locum.Tests.Unit.Auditing;

/// <summary>Testers and events: what must follow, and when.</summary>
public sealed class AnswerTests
{
    private const string Channel = """
        buses: {b: {rate: 500 kbit/s}}
        frames:
          Busy: {id: 0x300, length: 2, every: 50 ms}
        diagnostics:
          t:
            request: 0x7E0
            response: 0x7E8
            padding: 0xCC
            answer after: 5 ms
            sessions: [default, extended]
            identifiers: {0xF190: {text: DEPOT0000000LOCO1}, 0xF187: {bytes: 01 02}}

        """;

    private const string Tester = """
        for: 3 s
        traffic:
          b:
            - {id: 0x7E0, at: 200 ms, data: 03 22 F1 87}
            - {id: 0x7E0, at: 500 ms, data: 02 10 03}
            - {id: 0x7E0, at: 900 ms, data: 03 22 F1 90}
            - {id: 0x7E0, at: 950 ms, data: 30 00 00}
            - {id: 0x7E0, at: 1500 ms, data: 02 3E 00}

        """;

    private const uint Answers = 0x7E8;

    [Fact]
    public void Right_answers_of_one_and_of_several_frames_are_clean() =>
        Assert.Equal(6, Drive.Of(Channel, Tester).All(Answers).Count + Drive.Of(Channel, Tester).Finds().Findings.Count);

    [Fact]
    public void An_answer_that_misses_is_told()
    {
        var drive = Drive.Of(Channel, Tester);
        drive.Drop(Answers, (_, i) => i is 1);
        var finding = Assert.Single(drive.Finds("AnswerMissing t").Findings);
        Assert.Equal(50_000, finding.ComplainsUs);
    }

    [Fact]
    public void Another_answer_is_told_with_the_right_one()
    {
        var finding = Assert.Single(Drive.Of(Channel, Tester, ("{bytes: 01 02}", "{bytes: 01 03}")).Finds("AnswerWrong t").Findings);
        Assert.Contains("answered 05 62 F1 87 01 03 CC CC, described is 05 62 F1 87 01 02 CC CC", finding.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_late_answer_is_told() => Drive.Of(Channel, Tester, ("answer after: 5 ms", "answer after: 40 ms")).Finds("AnswerLate t");

    [Fact]
    public void A_mode_that_a_received_value_brings_must_begin_in_time()
    {
        var late = Drive.Of("side", ("until: {FlapCommand.order: open, then: opening}", "until: {FlapCommand.order: open, then: thinking}\n  thinking: {for: 60 ms, then: opening}"), ("{closed: closed, opening: opening, open: open, closing: closing}", "{closed: closed, thinking: closed, opening: opening, open: open, closing: closing}"));
        // The board's other module is not in this firmware.
        var kinds = late.Audit().Findings.Where(f => f.Module is "charge-flap").Select(f => f.Kind).ToHashSet();
        Assert.Subset(new HashSet<FindingKind> { FindingKind.AnswerLate, FindingKind.AnswerMissing, FindingKind.Mode }, kinds);
        Assert.NotEmpty(kinds);
    }

    [Fact]
    public void A_command_that_is_ignored_is_told()
    {
        var deaf = Drive.Of("side", ("{FlapCommand.order: close, then: closing}", "{FlapCommand.order: 3, then: closing}"));
        Assert.Contains(deaf.Audit().Findings, f => f.Kind is FindingKind.Mode && f.Message.Contains("stays in open although what it heard leads to closing", StringComparison.Ordinal));
    }
}
