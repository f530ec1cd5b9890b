using Locum.Text;

namespace Locum.Model;

/// <summary>One column of a layout.</summary>
/// <param name="Role">What it means.</param>
/// <param name="Header">What the header calls it; empty for columns by position.</param>
/// <param name="Span">Where the layout says so.</param>
public sealed record LayoutColumn(ColumnRole Role, string Header, Span Span);
