using Locum.Rendering;
using Locum.Text;

namespace Locum.Pages;

/// <summary>The texts that were read, with their comments: what a draft was inferred from stands there.</summary>
internal sealed class SourceSection : ISection
{
    public string Id => "sources";

    public string Title => "Descriptions and their evidence";

    public Html? Build(ReportSubject subject)
    {
        var evidence = new Evidence(subject.Sources);
        return TemplateFactory.RenderHtml($"{ReportPage.Folder}sources.html.scriban", new
        {
            Files = subject.Sources.Values.OrderBy(s => s.Path, StringComparer.Ordinal).Select((s, i) => new
            {
                Id = $"source-{i + 1}",
                Name = Path.GetFileName(s.Path),
                Comments = evidence.Of(s.Path).Count,
                Lines = Lines(s, evidence).ToList(),
            }).ToList(),
        });
    }

    private static IEnumerable<object> Lines(SourceText source, Evidence evidence)
    {
        var comments = evidence.Of(source.Path);
        // The last line break ends a line and starts none.
        var last = source.Line(source.LineCount).Length is 0 ? source.LineCount - 1 : source.LineCount;
        for (var number = 1; number <= last; number++)
        {
            var line = source.Line(number).Replace("\t", "    ", StringComparison.Ordinal);
            var cut = comments.TryGetValue(number, out var comment) ? Math.Max(0, line.LastIndexOf(comment.Text, StringComparison.Ordinal)) : line.Length;
            yield return new { Number = number, Text = line[..cut], Comment = line[cut..] };
        }
    }
}
