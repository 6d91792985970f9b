using System.Diagnostics;
using System.Text;

namespace FrontEndSim.Fuzz;

/// <summary>Makes a failing file small: takes out lines, then words, as long as the same thing goes wrong.</summary>
internal sealed class Shrinker(WorkerProcess worker, string path)
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    /// <summary>The smallest file found that still has the finding.</summary>
    public byte[] Shrink(FuzzCase what, Finding finding)
    {
        string text = Encoding.UTF8.GetString(what.File);
        var watch = Stopwatch.StartNew();
        if (finding == Finding.Hang(finding.Detail) || finding == Finding.Memory(finding.Detail) || !Fails(text))
            return what.File;
        text = Without(text, t => t.Split('\n'), "\n");
        text = Without(text, t => t.Split(' '), " ");
        return Encoding.UTF8.GetBytes(text);

        bool Fails(string tried)
        {
            File.WriteAllText(path, tried);
            return worker.Run(what.Verb, path)?.Signature == finding.Signature;
        }

        string Without(string from, Func<string, string[]> split, string joint)
        {
            var pieces = split(from).ToList();
            for (int size = Math.Max(1, pieces.Count / 2); size >= 1; size /= 2)
                for (int at = pieces.Count - size; at >= 0 && watch.Elapsed < Longest; at -= size)
                {
                    var rest = pieces.Take(at).Concat(pieces.Skip(at + size)).ToList();
                    if (Fails(string.Join(joint, rest)))
                        pieces = rest;
                }
            return string.Join(joint, pieces);
        }
    }
}
