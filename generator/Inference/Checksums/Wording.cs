using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>One way to state a rule completely.</summary>
/// <param name="Statement">The rule with its constants.</param>
/// <param name="Effort">How much it needs: 0 for a rule as published, more for extra bytes, most for solved numbers.</param>
/// <param name="Natural">No number in it was solved from the frames.</param>
internal sealed record Wording(ChecksumStatement Statement, int Effort, bool Natural)
{
    /// <summary>The profile that says the same; null when none does.</summary>
    public ProtectStatement? Protect { get; init; }

    /// <summary>What the wording leaves open.</summary>
    public IReadOnlyList<Caution> Cautions { get; init; } = [];

    /// <summary>The text, for lists.</summary>
    public string Text => Protect is null ? DescriptionText.Field(Statement, "counter") : DescriptionText.Protect(Protect);
}

/// <summary>What a wording may refer to.</summary>
/// <param name="Id">Identifier of the frames.</param>
/// <param name="Set">The payloads.</param>
/// <param name="Counters">Fields that count.</param>
/// <param name="Others">Payloads of other lengths, which tell start value and final value apart.</param>
internal sealed record WordingContext(CanId Id, PayloadSet Set, IReadOnlyList<CounterField> Counters, IReadOnlyList<PayloadSet> Others);
