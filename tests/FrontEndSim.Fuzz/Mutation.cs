using System.Text;

namespace FrontEndSim.Fuzz;

/// <summary>Files that are nearly right.</summary>
internal static class Mutation
{
    /// <summary>A file with some words or lines replaced, doubled, swapped or taken out.</summary>
    public static byte[] OfTokens(Seeds seeds, Random random, int times)
    {
        string text = Pick(random, seeds.Texts);
        for (int i = 0; i < times; i++)
            text = random.Next(8) switch
            {
                0 => WithLine(text, random, Pick(random, seeds.Lines)),
                1 => WithoutLine(text, random),
                2 => WithLine(text, random, Pick(random, text.Split('\n'))),
                _ => WithWord(text, random, seeds),
            };
        return Seeds.Bytes(text);
    }

    /// <summary>A file with some bytes flipped, cut, doubled or filled in; it need not be UTF-8.</summary>
    public static byte[] OfBytes(Seeds seeds, Random random)
    {
        var bytes = new List<byte>(Encoding.UTF8.GetBytes(Pick(random, seeds.Texts)));
        for (int i = random.Next(1, 8); i > 0 && bytes.Count > 1; i--)
        {
            int at = random.Next(bytes.Count), length = Math.Min(random.Next(1, 40), bytes.Count - at);
            switch (random.Next(6))
            {
                case 0:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 1:
                    bytes.RemoveRange(at, length);
                    break;
                case 2:
                    bytes.InsertRange(at, bytes.GetRange(at, length));
                    break;
                case 3:
                    bytes.Insert(at, (byte)random.Next(256));
                    break;
                case 4:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                default:
                    bytes.InsertRange(at, Enumerable.Repeat((byte)random.Next(256), random.Next(1, 3000)));
                    break;
            }
        }
        return [.. bytes];
    }

    private static string WithWord(string text, Random random, Seeds seeds)
    {
        var words = Seeds.WordsOf(text);
        if (words.Count == 0)
            return text;
        var (at, length) = words[random.Next(words.Count)].GetOffsetAndLength(text.Length);
        string word = text.Substring(at, length), put = random.Next(6) switch
        {
            0 => "",
            1 => word + " " + word,
            2 => text[words[random.Next(words.Count)]],
            3 => Scaled(word, random),
            _ => Pick(random, seeds.Words),
        };
        return text[..at] + put + text[(at + length)..];
    }

    // A number some decades away, which is where solvers and fits are at their wits' end.
    private static string Scaled(string word, Random random)
    {
        int digits = word.TakeWhile(c => char.IsAsciiDigit(c) || c == '.').Count();
        if (digits == 0 || !double.TryParse(word[..digits], out double value))
            return "-" + word;
        return FormattableString.Invariant($"{value * Math.Pow(10, random.Next(-12, 13)):G4}{word[digits..]}");
    }

    private static string WithLine(string text, Random random, string line)
    {
        var lines = text.Split('\n').ToList();
        lines.Insert(random.Next(lines.Count + 1), line);
        return string.Join('\n', lines);
    }

    private static string WithoutLine(string text, Random random)
    {
        var lines = text.Split('\n').ToList();
        lines.RemoveAt(random.Next(lines.Count));
        return string.Join('\n', lines);
    }

    private static T Pick<T>(Random random, IReadOnlyList<T> of) => of[random.Next(of.Count)];
}
