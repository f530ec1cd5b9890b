using System.Text;
using Locum.Cli;
using Spectre.Console;

namespace Locum.Tests.Unit.Cli;

/// <summary>Runs one command line in memory.</summary>
internal static class CommandLine
{
    public static (int Code, string Output, string Error) Run(params string[] arguments) => Run(null, arguments);

    /// <summary>The same with somebody at a console.</summary>
    public static (int Code, string Output, string Error) Run(IAnsiConsole? person, string[] arguments)
    {
        using var stream = new MemoryStream();
        using var output = new StreamWriter(stream, new UTF8Encoding(false)) { AutoFlush = true, NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        var code = Application.Run(arguments, new Terminal(output, error, stream, false, false, person is null ? null : () => person));
        return (code, Encoding.UTF8.GetString(stream.ToArray()), error.ToString());
    }
}
