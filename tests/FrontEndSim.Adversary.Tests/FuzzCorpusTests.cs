using System.Text;
using FrontEndSim.Fuzz;
using FrontEndSim.Language.Binding;
using FrontEndSim.Language.Text;

namespace FrontEndSim.Adversary.Tests;

[Collection(ProgramInThisProcess.Name)]
public sealed class FuzzCorpusTests : IDisposable
{
    private static readonly string Repository = Seeds.Repository;
    private static readonly string Folder = KnownFailures.Folder(Repository);
    private readonly string _scratch = Directory.CreateTempSubdirectory("fes-corpus-").FullName;

    public static TheoryData<string> Failures => [.. Directory.EnumerateFiles(Folder, "*.fes", SearchOption.AllDirectories)
        .Select(f => Path.GetRelativePath(Folder, f).Replace('\\', '/')).Order(StringComparer.Ordinal)];

    public void Dispose() => Directory.Delete(_scratch, recursive: true);

    [Theory]
    [MemberData(nameof(Failures))]
    public async Task A_file_that_once_broke_the_program_ends_with_an_answer(string name)
    {
        string? known = KnownFailures.Of(Repository).Where(k => k.Name == name).Select(k => k.Signature).FirstOrDefault();
        Assert.SkipWhen(known is "hang" or "memory" or "process died", $"{name} is known to end with: {known}");
        Environment.SetEnvironmentVariable("FRONTENDSIM_TRACE", "1");
        var what = new FuzzCase(name.Split('/')[0], await File.ReadAllBytesAsync(Path.Combine(Folder, name),
            TestContext.Current.CancellationToken));
        // Half a minute each: the fuzzer's --replay runs them all.
        Assert.SkipWhen(what.File.AsSpan().StartsWith("# long"u8) && Environment.GetEnvironmentVariable("FRONTENDSIM_LONG") != "1",
            $"{name} takes long; FRONTENDSIM_LONG=1 runs it.");
        var (finding, _) = await Judge.RunAsync(what, Path.Combine(_scratch, "case.fes"));
        if (known is null)
            Assert.True(finding is null, $"{name}: {finding?.Signature}: {finding?.Detail}");
        else
            Assert.True(finding is not null, $"{name} is mended: strike it from open.txt.");
    }

    [Fact]
    public void The_list_of_known_failures_names_only_files_that_are_there() =>
        Assert.All(KnownFailures.Of(Repository), k => Assert.True(File.Exists(Path.Combine(Folder, k.Name)), k.Name));

    [Fact]
    public void Nearly_all_front_ends_that_are_made_up_can_be_read()
    {
        const int made = 300;
        var refused = Enumerable.Range(0, made).Select(k => CircuitFile.Load(
            new SourceFile($"{k}.fes", Encoding.UTF8.GetString(FrontEndMaker.Make(new Random(k))))))
            .Where(r => r.FrontEnd is null).Select(r => DiagnosticPrinter.Print(r.Diagnostics.First(d => d.IsError))).ToArray();
        // What a stage cannot do with the values drawn is refused; a form that the language does not have would be in many.
        Assert.True(refused.Length < made / 10, $"{refused.Length} of {made} are refused:\n{string.Join('\n', refused)}");
    }

    [Fact]
    public void The_same_seed_makes_the_same_cases()
    {
        var seeds = Seeds.Of(Repository);
        for (long number = 0; number < 200; number++)
        {
            var (one, other) = (FuzzCase.Of(3, number, seeds), FuzzCase.Of(3, number, seeds));
            Assert.Equal(one.Verb, other.Verb);
            Assert.Equal(one.File, other.File);
        }
    }
}

/// <summary>Tests that run the program in this process and catch what it says; one after another, as there is one console.</summary>
[CollectionDefinition(Name)]
public sealed class ProgramInThisProcess
{
    public const string Name = "the program in this process";
}
