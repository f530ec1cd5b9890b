namespace Locum.Tests.Properties;

/// <summary>Flags with which gcc finds wrong memory and undefined behaviour in generated C.</summary>
internal static class Sanitizers
{
    /// <summary>Traps are compiled faster than messages. A case that is run alone speaks.</summary>
    public static IReadOnlyList<string> Gcc { get; } = Cases.Whole
        ? ["-fsanitize=address,undefined", "-fsanitize-undefined-trap-on-error"]
        : ["-fsanitize=address,undefined", "-fno-sanitize-recover=all", "-g"];

    /// <summary>Besides, for what is compiled often: calls are compiled faster than inline checks.</summary>
    public static IReadOnlyList<string> GccQuick { get; } = ["-O1", "--param", "asan-instrumentation-with-call-threshold=0"];
}
