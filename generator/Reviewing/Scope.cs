using Locum.Model;

namespace Locum.Reviewing;

/// <summary>A module with the names of its parts, as they are called in the newer revision.</summary>
/// <param name="renamed">New names by kind, frame (empty for parts of the module) and old name.</param>
internal sealed class Scope(Module module, IReadOnlyDictionary<(string Kind, string Of, string Old), string> renamed)
{
    public Module Module { get; } = module;

    public string Bus(int index) => index < 0 ? "unknown" : Named("bus", "", Module.Buses[index].Name);

    public string Input(int index) => Named("input", "", Module.Inputs[index].Name);

    public string Mode(int index) => Named("mode", "", Module.Modes[index].Name);

    public string Counter(int index) => Named("counter", "", Module.Counters[index].Name);

    public string Frame(int index) => Named("frame", "", Module.Frames[index].Name);

    public string Received(int index) => Named("received frame", "", Module.Receives[index].Name);

    public string ReceivedField(int frame, int field) =>
        $"{Received(frame)}.{Named("field", Module.Receives[frame].Name, Module.Receives[frame].Fields[field].Name)}";

    public string Modes(IEnumerable<int> modes) => Say.List(modes.Select(Mode));

    /// <summary>The name in the newer revision.</summary>
    /// <param name="of">The frame of a field as it was called; empty for parts of the module.</param>
    public string Named(string kind, string of, string name) => renamed.GetValueOrDefault((kind, of, name), name);

    /// <summary>Null unless the part was renamed.</summary>
    public string? WasNamed(string kind, string of, string name) => renamed.ContainsKey((kind, of, name)) ? name : null;
}
