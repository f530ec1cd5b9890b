using Locum.Model;

namespace Locum.Reporting;

/// <summary>Why a board is silent, in words.</summary>
internal static class SilenceWords
{
    public static string Of(Silence reason) => reason switch
    {
        Silence.None => "sends again",
        Silence.ForeignSender => "is silent for good: another node sends one of its identifiers (LED code 2)",
        Silence.BusOff => "is silent for good: bus-off too often (LED code 3)",
        Silence.Disabled => "is silent: its enable input is not active (LED code 4)",
        Silence.RunTime => "is silent for good: its time to run is over (LED code 5)",
        Silence.OutputsOff => "switches nothing any more: brown-outs in a row (LED code 1)",
        _ => throw new ArgumentOutOfRangeException(nameof(reason)),
    };
}
