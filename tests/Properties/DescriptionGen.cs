using System.Text;
using CsCheck;

namespace Locum.Tests.Properties;

/// <summary>Random valid descriptions of one or two modules on one board, as the YAML text a user would write, with stimuli.</summary>
/// <param name="stimuli">How many.</param>
/// <param name="leastUs">Stimuli last at least so long.</param>
internal sealed class DescriptionGen(int stimuli = 3, long leastUs = 0) : Gen<GeneratedProject>
{
    private const int NodePercent = 35;
    private const string First = "alpha";

    public override GeneratedProject Generate(PCG pcg, Size? min, out Size size)
    {
        var dice = new Dice(pcg);
        var world = new World(dice, leastUs);
        var buses = new HashSet<WorldBus>();
        var inputs = new HashSet<WorldInput>();
        var modules = new List<string> { Draw(First, 8) };
        if (dice.Chance(30))
            modules.Add(Draw("Zwölf b", 4));
        world.Keep(buses, inputs);
        var guards = GuardText.Of(dice, world);
        var surroundings = Enumerable.Range(0, stimuli).Select(_ => StimulusText.Of(dice, world)).ToList();
        var project = new GeneratedProject(modules, surroundings) { Guards = OutputText.Guard(guards, modules[0]) };
        size = new Size((ulong)project.ToString().Length);
        return project;

        string Draw(string name, int mostFrames)
        {
            var ownBuses = dice.Some(world.Buses, 1);
            var ownInputs = dice.Some(world.Inputs, dice.Between(0, 2));
            buses.UnionWith(ownBuses);
            inputs.UnionWith(ownInputs);
            return Module(dice, world, name, ownBuses, ownInputs, mostFrames);
        }
    }

    private static string Module(Dice dice, World world, string name, List<WorldBus> buses, List<WorldInput> inputs, int mostFrames)
    {
        var received = ReceiveText.Draw(dice, world, buses);
        var modes = ModeText.Draw(dice, world, inputs, received);
        var text = new StringBuilder();
        text.Append($"locum: 1\nmodule: {name}\n");
        if (dice.Chance(70))
            text.Append("summary: \"Drawn by lot; 100 % \\\"invented\\\"\"\n");
        text.Append(dice.Pick("hazard: none\n", "hazard: none\n", "hazard: braking\nacknowledge: a test bench\n", "hazard: high-voltage\nacknowledge: 'nothing is connected'\n"));
        text.Append("buses:\n");
        foreach (var bus in buses)
            text.Append($"  {bus.Name}: {bus.Text}\n");
        if (inputs.Count > 0)
            text.Append("inputs:\n");
        foreach (var input in inputs)
            text.Append($"  {input.Name}: {{kind: {dice.Pick("line", "wake line")}, active: {(input.High ? "high" : "low")}, debounce: {dice.Text(input.DebounceUs)}}}\n");
        text.Append(ReceiveText.Write(dice, received, buses.Count > 1));
        text.Append(modes.Text);
        var module = new ModuleWorld(buses, inputs, received, modes);
        var frames = new FrameText(dice, world, module);
        var drawn = frames.Draw(dice.Between(1, mostFrames));
        text.Append(frames.SharedCounters());
        text.Append(drawn);
        text.Append(ChannelText.Draw(dice, world, module));
        text.Append(NodeText.Draw(dice, world, frames.Module, frames.Drawn, NodePercent));
        return OutputText.Add(text.ToString(), modes, [.. inputs.Select(Watched.Of)], world.Pace, mayRead: name is First);
    }
}
