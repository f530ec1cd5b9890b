using System.CommandLine;
using Locum.Schema;

namespace Locum.Cli;

/// <summary>locum schema: the description language for editors.</summary>
internal static class SchemaCommand
{
    public static Command Create(Terminal terminal)
    {
        var command = new Command("schema", "Prints a JSON Schema of descriptions, projects, stimuli and layouts, for editors.\nExample: locum schema > locum.schema.json");
        command.SetAction(_ =>
        {
            terminal.Output.Write(SchemaDocument.Text());
            return ExitCode.Fine;
        });
        return command;
    }
}
