namespace FrontEndSim.EndToEnd.Tests;

/// <summary>A folder of a test's own, gone afterwards.</summary>
internal sealed class Scratch : IDisposable
{
    /// <summary>A divider by two into a 3.3 V converter pin, with nothing that bends it.</summary>
    public const string Divider = """
        circuit "Divider into a 3.3 V converter pin"
        rail VDD 3.3 V
        sensor probe drives IN
            span 0 V .. 6.6 V
            source 1 ohm
        resistor R1 from IN to PIN 10 kohm
        resistor R2 from PIN to GND 10 kohm
        capacitor C1 from PIN to GND 10 nF
        pin adc at PIN
            rated -0.3 V .. VDD + 0.3 V
            converts 12 bits over 0 V .. VDD
        event "12 V on the input" at IN
            step to 12 V source 1 ohm at 1 ms for 1 ms
        """;

    /// <summary>The same without its event, of parts whose tolerances keep the pin inside its rating.</summary>
    public static string CalmDivider { get; } = Divider[..Divider.IndexOf("event ", StringComparison.Ordinal)]
        .Replace("VDD 3.3 V\n", "VDD 3.3 V tolerance 1%\n", StringComparison.Ordinal)
            .Replace("10 kohm", "10 kohm 1%", StringComparison.Ordinal);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("frontendsim-");

    public string Folder => _folder.FullName;

    /// <summary>Path of a file in the folder.</summary>
    public string Path(string name) => System.IO.Path.Combine(Folder, name);

    /// <summary>Writes a file and gives its path.</summary>
    public string Write(string name, string text)
    {
        File.WriteAllText(Path(name), text);
        return Path(name);
    }

    public string[] Files() => [.. Directory.GetFileSystemEntries(Folder).Select(f => System.IO.Path.GetFileName(f)).Order()];

    public void Dispose() => _folder.Delete(recursive: true);
}
