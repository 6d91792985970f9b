using System.CommandLine;
using FrontEndSim.Fuzz;

// Throws mutated and generated files at the program and reports what it should never do.
if (args is ["--worker", ..])
    return await Worker.RunAsync(Console.In, Console.Out);

var seconds = new Option<double>("--seconds") { Description = "How long to go on; 300 if not given.", DefaultValueFactory = _ => 300 };
var seed = new Option<ulong>("--seed")
{
    Description = "The same seed gives the same cases; 1 if not given.",
    DefaultValueFactory = _ => 1
};
var first = new Option<long>("--first") { Description = "Number of the first case; 0 if not given." };
var cases = new Option<long>("--cases")
{
    Description = "How many cases at most; as many as the time allows if not given.",
    DefaultValueFactory = _ => long.MaxValue / 2,
};
var workers = new Option<int>("--workers")
{
    Description = "Processes at work; one a core if not given.",
    DefaultValueFactory = _ => Environment.ProcessorCount,
};
var output = new Option<string>("--out")
{
    Description = "Folder for inputs that fail; fuzz-failures if not given.",
    DefaultValueFactory = _ => "fuzz-failures",
};
var replay = new Option<string?>("--replay")
{
    Description =
    "Runs the files of such a folder (a verb a folder) instead, and shrinks none."
};
var only = new Option<string>("--only")
{
    Description = "\"read\" leaves out what goes to a verb, \"verbs\" what is only read; all if not given.",
    DefaultValueFactory = _ => Hunt.All,
};
only.AcceptOnlyFromAmong(Hunt.All, FuzzCase.Read, Hunt.Verbs);
var corpus = new Option<int>("--corpus") { Description = "Draws so many front ends from --first on and solves them, instead." };
var root = new RootCommand("Mutated files, generated front ends and generated data sheets against every verb.")
{
    seconds, seed, first, cases, workers, output, replay, only, corpus,
};
root.SetAction(line =>
{
    try
    {
        _ = Seeds.Repository; // before hours of work, not after
    }
    catch (DirectoryNotFoundException e)
    {
        Console.Error.WriteLine(e.Message);
        return 2;
    }
    if (line.GetValue(corpus) is > 0 and var count)
        return CorpusRun.Run((int)line.GetValue(first), count, TimeSpan.FromSeconds(line.GetValue(seconds)),
            line.GetRequiredValue(output), Console.Out);
    var hunt = new Hunt(line.GetValue(seed), line.GetRequiredValue(output), line.GetRequiredValue(only), Console.Out);
    return line.GetValue(replay) is { } folder ? hunt.Replay(folder)
        : hunt.Run(TimeSpan.FromSeconds(line.GetValue(seconds)), line.GetValue(first), line.GetValue(cases), line.GetValue(workers));
});
return root.Parse(args).Invoke();
