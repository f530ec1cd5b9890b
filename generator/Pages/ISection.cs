using Locum.Rendering;

namespace Locum.Pages;

/// <summary>A part of the report under its own heading.</summary>
public interface ISection
{
    /// <summary>Its place in the page's addresses; a word.</summary>
    string Id { get; }

    string Title { get; }

    /// <summary>What stands under the heading; null where there is nothing to say.</summary>
    Html? Build(ReportSubject subject);
}
