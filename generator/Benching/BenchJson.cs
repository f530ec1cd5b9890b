using System.Text.Json;
using Locum.Reporting;

namespace Locum.Benching;

/// <summary>Bench sheets for programs. Numbers in base units, with the unit and as people read them.</summary>
public static class BenchJson
{
    public static void Write(Stream stream, IReadOnlyList<BenchSheet> sheets)
    {
        using var json = new Utf8JsonWriter(stream, JsonStyle.Options);
        json.WriteStartObject();
        json.WriteStartArray("modules");
        foreach (var sheet in sheets)
            Write(json, sheet);
        json.WriteEndArray();
        Tables(json, "general", Bench.General);
        json.WriteEndObject();
        json.Flush();
        stream.WriteByte((byte)'\n');
    }

    private static void Write(Utf8JsonWriter json, BenchSheet sheet)
    {
        json.WriteStartObject();
        json.WriteString("name", JsonStyle.WellFormed(sheet.Module));
        json.WriteString("hazard", sheet.Hazard);
        json.WriteBoolean("holds", sheet.Holds);
        Strings(json, "cautions", sheet.Cautions);
        Tables(json, "tables", sheet.Tables);
        Strings(json, "problems", sheet.Problems);
        Strings(json, "notDescribed", sheet.Missing);
        json.WriteEndObject();
    }

    private static void Tables(Utf8JsonWriter json, string name, IEnumerable<BenchTable> tables)
    {
        json.WriteStartObject(name);
        foreach (var table in tables)
            Write(json, table);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, BenchTable table)
    {
        json.WriteStartObject(table.Key);
        json.WriteString("title", JsonStyle.WellFormed(table.Title));
        json.WriteStartArray("rows");
        foreach (var row in table.Rows)
        {
            json.WriteStartObject();
            foreach (var (column, cell) in table.Columns.Zip(row))
                Write(json, column, cell);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        Strings(json, "notes", table.Notes);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string column, BenchCell cell)
    {
        if (cell.Value is not { } value)
        {
            json.WriteString(column, JsonStyle.WellFormed(cell.Text));
            return;
        }
        json.WriteStartObject(column);
        // Twelve digits: what decimal arithmetic leaves behind them is noise.
        json.WriteNumber("value", value is 0 ? 0 : Math.Round(value, Math.Clamp(11 - (int)Math.Floor(Math.Log10(Math.Abs(value))), 0, 15)));
        json.WriteString("unit", cell.Unit);
        json.WriteString("text", cell.Text);
        json.WriteEndObject();
    }

    private static void Strings(Utf8JsonWriter json, string name, IReadOnlyList<string> values)
    {
        json.WriteStartArray(name);
        foreach (var value in values)
            json.WriteStringValue(JsonStyle.WellFormed(value));
        json.WriteEndArray();
    }
}
