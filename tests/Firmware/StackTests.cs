using System.Text.RegularExpressions;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Bounded memory: no recursion, no function with a large or growing stack, no heap.</summary>
public sealed partial class StackTests(ITestOutputHelper log)
{
    // Most bytes of stack that one function may use.
    private const int AvrBytes = 64;
    private const int ArmBytes = 96;

    [Theory]
    [InlineData("cab", "avr-gcc", "-mmcu=atmega328p", AvrBytes)]
    [InlineData("floor", "avr-gcc", "-mmcu=atmega328p", AvrBytes)]
    [InlineData("bogie", "arm-none-eabi-gcc", "-mcpu=cortex-m3", ArmBytes)]
    public void Functions_keep_to_their_stack(string board, string compiler, string machine, int most)
    {
        using var folder = new FirmwareFolder(CompileMatrixTests.Demo().Plans.Single(p => p.Name == board));
        var sources = folder.Files.Select(f => f.Path).Where(p => p.EndsWith(".c", StringComparison.Ordinal)).ToList();
        var target = machine.Contains("mmcu", StringComparison.Ordinal) ? "-DF_CPU=16000000UL" : "-mthumb";
        Assert.Equal("", folder.Compile(compiler, ["-Os", machine, target, "-fstack-usage"], sources));
        var usage = Read(folder, "*.su").SelectMany(t => t.Split('\n', StringSplitOptions.RemoveEmptyEntries)).Select(l => l.Split('\t')).ToList();
        Assert.NotEmpty(usage);
        Assert.All(usage, u => Assert.True(u[2] is "static" or "dynamic,bounded", u[0]));
        var worst = usage.MaxBy(u => int.Parse(u[1]))!;
        log.WriteLine($"{board}: {worst[0]} uses {worst[1]} bytes");
        Assert.True(int.Parse(worst[1]) <= most, $"{worst[0]} uses {worst[1]} bytes of stack, more than {most}");
    }

    // The PC's compiler writes the graph of calls; what it compiles is what every board compiles.
    [Theory]
    [InlineData("cab")]
    [InlineData("floor")]
    [InlineData("bogie")]
    public void No_function_of_the_portable_part_calls_itself(string board)
    {
        using var folder = new FirmwareFolder(CompileMatrixTests.Demo().Plans.Single(p => p.Name == board));
        Assert.Equal("", folder.Compile("gcc", ["-O0", "-fcallgraph-info"], folder.Portable));
        Assert.Null(Cycle(Calls(folder)));
    }

    [Theory]
    [InlineData("cab", "avr-nm")]
    [InlineData("floor", "avr-nm")]
    [InlineData("bogie", "arm-none-eabi-nm")]
    public void Nothing_of_the_heap_is_linked(string board, string nm)
    {
        using var folder = new FirmwareFolder(CompileMatrixTests.Demo().Plans.Single(p => p.Name == board));
        Assert.Equal("", folder.Make());
        var symbols = Shell.Must(nm, ["firmware.elf"], folder.Root);
        Assert.Contains(" T main", symbols, StringComparison.Ordinal);
        Assert.DoesNotMatch(HeapSymbol(), symbols);
    }

    [Fact]
    public void The_search_for_recursion_finds_it()
    {
        Assert.NotNull(Cycle([("a", "b"), ("b", "c"), ("c", "b")]));
        Assert.NotNull(Cycle([("a", "a")]));
        Assert.Null(Cycle([("a", "b"), ("a", "c"), ("b", "d"), ("c", "d")]));
    }

    // The compiler writes: edge: { sourcename: "file.c:caller" targetname: "callee" label: … }
    private static List<(string From, string To)> Calls(FirmwareFolder folder)
    {
        var calls = Read(folder, "*.ci").SelectMany(t => Edge().Matches(t)).Select(m => (m.Groups[1].Value, m.Groups[2].Value)).ToList();
        Assert.Contains(calls, c => c.Item1.EndsWith("locum_step", StringComparison.Ordinal));
        return calls;
    }

    private static string? Cycle(IReadOnlyList<(string From, string To)> calls)
    {
        var next = calls.ToLookup(c => c.From, c => c.To);
        var done = new HashSet<string>(StringComparer.Ordinal);
        return next.Select(n => Visit(n.Key, [])).FirstOrDefault(c => c is not null);

        string? Visit(string function, HashSet<string> path)
        {
            if (!path.Add(function))
                return function;
            if (!done.Contains(function) && next[function].Select(f => Visit(f, path)).FirstOrDefault(c => c is not null) is { } cycle)
                return cycle;
            path.Remove(function);
            done.Add(function);
            return null;
        }
    }

    private static IEnumerable<string> Read(FirmwareFolder folder, string pattern) =>
        Directory.EnumerateFiles(folder.Root, pattern).Select(File.ReadAllText);

    [GeneratedRegex(@"edge: \{ sourcename: ""([^""]+)"" targetname: ""([^""]+)""")]
    private static partial Regex Edge();

    [GeneratedRegex(@"\b(malloc|calloc|realloc|free|sbrk|_sbrk|alloca)\b")]
    private static partial Regex HeapSymbol();
}
