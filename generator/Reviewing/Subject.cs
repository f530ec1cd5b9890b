using Locum.Model;
using Locum.Pipeline;

namespace Locum.Reviewing;

/// <summary>What is compared: a project (or a module by itself) with its boards' stimuli, or a stimulus.</summary>
public sealed record Subject
{
    /// <summary>Null for a stimulus.</summary>
    public Project? Project { get; init; }

    /// <summary>What each board of the project is simulated with, by board name.</summary>
    public IReadOnlyDictionary<string, Stimulus> Stimuli { get; init; } = new Dictionary<string, Stimulus>();

    /// <summary>Null for a project.</summary>
    public Stimulus? Stimulus { get; init; }

    public bool IsStimulus => Stimulus is not null;

    /// <summary>Null when what was loaded is not usable.</summary>
    public static Subject? Of(Loaded loaded) => loaded.Diagnostics.HasErrors || (loaded.Project is null && loaded.Stimulus is null) ? null
        : new() { Project = loaded.Project, Stimuli = loaded.Stimuli, Stimulus = loaded.Stimulus };
}
