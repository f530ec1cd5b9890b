using System.Collections.Concurrent;
using System.Security.Cryptography;
using CsCheck;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Runs a check on generated cases. The same cases on every run, or many fresh ones with LOCUM_LONG=1.</summary>
/// <remarks>
/// A failure names its seed; LOCUM_SEED=«seed» runs that case alone. A long run goes on behind a failure.
/// LOCUM_CASES=«number» makes long series shorter or longer.
/// </remarks>
internal static class Cases
{
    private const ulong UsualSeed = 0x10C0_4D15;
    private const int LongFactor = 40;
    private const int ShrinkTries = 60;
    private const int MostFailures = 5;
    private const int Told = 500;

    /// <summary>False when a single case is run, so totals mean nothing.</summary>
    public static bool Whole => string.IsNullOrEmpty(Environment.GetEnvironmentVariable("LOCUM_SEED"));

    public static bool Long => Environment.GetEnvironmentVariable("LOCUM_LONG") is "1";

    /// <param name="first">Number of the first case, so that tests need not share theirs.</param>
    /// <param name="longCount">How many cases a long run has; 0: many times the usual count.</param>
    /// <param name="atOnce">How many checks may run at a time.</param>
    public static void Run<T>(ITestOutputHelper log, Gen<T> gen, int count, Action<T> check, int first = 0, int longCount = 0, int atOnce = 1)
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
            count = longCount > 0 ? longCount : count * LongFactor;
            if (int.TryParse(Environment.GetEnvironmentVariable("LOCUM_CASES"), out var asked))
                count = asked;
            log.WriteLine($"{count} cases from start {start}");
            Console.WriteLine($"{typeof(T).Name}: {count} cases from start {start}");
        }
        var failures = new ConcurrentQueue<Exception>();
        var done = 0;
        Parallel.For(first, first + count, new ParallelOptions { MaxDegreeOfParallelism = atOnce }, (i, loop) =>
        {
            try
            {
                RunOne(gen, new PCG((uint)i, start).ToString(), check);
                if (Interlocked.Increment(ref done) % Told is 0 && Long)
                    Console.WriteLine($"{typeof(T).Name}: {done} of {count}");
            }
            catch (Exception failure) when (failure is CsCheckException)
            {
                failures.Enqueue(failure);
                Console.WriteLine(failure.Message);
                if (!Long || failures.Count >= MostFailures)
                    loop.Stop();
            }
        });
        Assert.True(failures.IsEmpty, string.Join("\n\n", failures.Select(f => f.ToString())));
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
