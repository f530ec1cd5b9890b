using Locum.Proving;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Regression.SanitizedEvents;

/// <summary>With sanitizers, which keep shifts from being folded, gcc warned of a change of sign where an input's event was chosen.</summary>
public sealed class SanitizedEventsTests
{
    [Fact]
    public void Events_of_inputs_compile_without_a_warning_under_sanitizers()
    {
        var project = new GeneratedProject(["""
            locum: 1
            module: m
            hazard: none
            buses: {b: {rate: 1 Mbit/s}}
            inputs: {line: {active: high}}
            frames: {A: {id: 0, length: 0, on: [{input: line}, {input: line, level: inactive}]}}
            """], []);
        using var folder = new TempFolder();
        Assert.Null(Prover.Build(project.Load().Plan, "m", "0", CCompiler.Find("gcc")!, folder.Path(), ["-fsanitize=address,undefined"]));
    }
}
