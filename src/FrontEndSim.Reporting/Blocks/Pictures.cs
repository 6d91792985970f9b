using System.Xml.Linq;
using FrontEndSim.Reporting.Plots;

namespace FrontEndSim.Reporting.Blocks;

/// <summary>Plots side by side where there is room.</summary>
/// <param name="Panels">The data of each.</param>
public sealed record Pictures(ImmutableArray<Panel> Panels) : Block;

/// <summary>A drawing.</summary>
/// <param name="Caption">What is drawn.</param>
/// <param name="Svg">The drawing, with a title and a description for those who do not see it.</param>
public sealed record Drawing(string Caption, XElement Svg) : Block;

/// <summary>Ranges on one scale: most of a distribution as a bar, its bounds as a line, an estimate as a mark.</summary>
/// <param name="Caption">What is shown.</param>
/// <param name="Axis">The scale.</param>
/// <param name="Rows">The ranges, in order.</param>
public sealed record Ranges(string Caption, Axis Axis, ImmutableArray<RangeRow> Rows) : Block;

/// <summary>A range.</summary>
/// <param name="Label">What it is of.</param>
/// <param name="Low">Lower bound.</param>
/// <param name="High">Upper bound.</param>
/// <param name="MostLow">Lower end of most.</param>
/// <param name="MostHigh">Upper end of most.</param>
/// <param name="Mark">The estimate.</param>
/// <param name="Sentence">The same in a sentence.</param>
public sealed record RangeRow(string Label, double Low, double High, double MostLow, double MostHigh, double Mark, string Sentence);
