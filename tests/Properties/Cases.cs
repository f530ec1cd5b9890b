using System.Security.Cryptography;
using CsCheck;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Runs a check on generated cases. The same cases on every run, or many fresh ones with LOCUM_LONG=1.</summary>
/// <remarks>A failure names its seed; LOCUM_SEED=«seed» runs that case alone.</remarks>
internal static class Cases
{
    private const ulong UsualSeed = 0x10C0_4D15;
    private const int LongFactor = 40;
    private const int ShrinkTries = 60;

    /// <summary>False when a single case is run, so totals mean nothing.</summary>
    public static bool Whole => string.IsNullOrEmpty(Environment.GetEnvironmentVariable("LOCUM_SEED"));

    public static bool Long => Environment.GetEnvironmentVariable("LOCUM_LONG") is "1";

    /// <param name="first">Number of the first case, so that tests need not share theirs.</param>
    public static void Run<T>(ITestOutputHelper log, Gen<T> gen, int count, Action<T> check, int first = 0)
    {
        if (!Whole)
        {
            RunOne(gen, Environment.GetEnvironmentVariable("LOCUM_SEED")!, check);
            return;
        }
        var start = UsualSeed;
        if (Long)
        {
            start = BitConverter.ToUInt64(RandomNumberGenerator.GetBytes(sizeof(ulong)));
            count *= LongFactor;
            log.WriteLine($"{count} cases from start {start}");
            Console.WriteLine($"{typeof(T).Name}: {count} cases from start {start}");
        }
        for (var i = first; i < first + count; i++)
            RunOne(gen, new PCG((uint)i, start).ToString(), check);
    }

    private static void RunOne<T>(Gen<T> gen, string seed, Action<T> check)
    {
        try
        {
            gen.Sample(check, seed: seed, iter: 1, threads: 1);
        }
        catch (CsCheckException)
        {
            // The same failure again, this time followed by attempts to find a smaller case.
            gen.Sample(check, seed: seed, iter: ShrinkTries, threads: 1, print: value => $"{value}");
            throw;
        }
    }
}
