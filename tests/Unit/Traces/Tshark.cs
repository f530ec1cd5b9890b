using System.Diagnostics;
using System.Text;
using Xunit;

namespace Locum.Tests.Unit.Traces;

/// <summary>Reads captures with tshark, a program that shares nothing with this project.</summary>
internal static class Tshark
{
    private static readonly string[] s_fields =
    [
        "frame.interface_name", "frame.time_epoch", "can.id", "can.flags.xtd", "can.flags.rtr", "can.flags.err",
        "can.len", "data.data", "frame.comment", "canfd.flags.brs",
    ];

    /// <summary>One array per packet: interface, time, id, extended, remote, error, length, data, comment, rate switch (CAN FD only).</summary>
    /// <remarks>Protocols on top of CAN would claim some frames (identifier 0 with 8 bytes, for one) and hide their data.</remarks>
    public static IReadOnlyList<string[]> Read(byte[] capture) => Fields(capture, "data", s_fields);

    /// <summary>One array per packet: some fields, where what CAN frames carry is taken for a protocol.</summary>
    public static IReadOnlyList<string[]> Fields(byte[] capture, string protocol, params IReadOnlyList<string> fields) =>
        Read(capture, ["-d", $"can.subdissector,{protocol}"], fields);

    /// <summary>One array of the given fields per packet.</summary>
    /// <param name="options">More options, such as what a protocol carries.</param>
    public static IReadOnlyList<string[]> Read(byte[] capture, IReadOnlyList<string> options, IReadOnlyList<string> fields)
    {
        string file = Path.Combine(Path.GetTempPath(), $"locum-{Guid.NewGuid():N}.pcapng");
        File.WriteAllBytes(file, capture);
        try
        {
            string text = Run(["-n", .. options, "-r", file, "-T", "fields", .. fields.SelectMany(field => new[] { "-e", field })]);
            return [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split('\t').Select(Plain).ToArray())];
        }
        finally
        {
            File.Delete(file);
        }
    }

    // Later versions write flags as words.
    private static string Plain(string field) => field switch { "True" => "1", "False" => "0", _ => field };

    private static string Run(IReadOnlyList<string> arguments)
    {
        var start = new ProcessStartInfo("tshark", arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
        };
        // Times are fields, not local text, but a fixed zone and language keep all output the same everywhere.
        start.Environment["TZ"] = "UTC";
        start.Environment["LC_ALL"] = "C.UTF-8";
        using var process = Process.Start(start) ?? throw new InvalidOperationException("tshark did not start.");
        var errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"tshark ended with {process.ExitCode}: {errors.Result}");
        return output;
    }
}
