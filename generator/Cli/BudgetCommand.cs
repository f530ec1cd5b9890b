using System.CommandLine;

namespace Locum.Cli;

/// <summary>locum budget: what a bus has left.</summary>
internal static class BudgetCommand
{
    public static Command Create(Terminal terminal) => new("budget", "Bit timing of boards and controllers.\nExample: locum budget timing avr-mcp2515")
    {
        BudgetTimingCommand.Create(terminal),
    };
}
