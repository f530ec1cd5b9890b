using System.Text;
using Locum.Cli;

namespace Locum.Tests.Unit.Cli;

/// <summary>Runs one command line in memory.</summary>
internal static class CommandLine
{
    public static (int Code, string Output, string Error) Run(params string[] arguments)
    {
        using var stream = new MemoryStream();
        using var output = new StreamWriter(stream, new UTF8Encoding(false)) { AutoFlush = true, NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = Application.Run(arguments, new Terminal(output, error, stream, false, false));
        return (code, Encoding.UTF8.GetString(stream.ToArray()), error.ToString());
    }
}
