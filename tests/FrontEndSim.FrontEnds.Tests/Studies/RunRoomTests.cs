using FrontEndSim.FrontEnds.Studies.Session;

namespace FrontEndSim.FrontEnds.Tests.Studies;

/// <summary>Runs through time wait where they would not fit into memory together.</summary>
public class RunRoomTests
{
    private static int MostAtATime(long stepElements)
    {
        int running = 0, most = 0;
        Parallel.For(0, 16, new ParallelOptions { MaxDegreeOfParallelism = 8 }, _ =>
        {
            using var room = RunRoom.Enter(stepElements, CancellationToken.None);
            int now = Interlocked.Increment(ref running);
            lock (typeof(RunRoomTests))
                most = Math.Max(most, now);
            Thread.Yield();
            Interlocked.Decrement(ref running);
        });
        return most;
    }

    [Fact]
    public void Runs_that_fill_the_room_go_one_after_another() => Assert.Equal(1, MostAtATime(RunRoom.MostStepElements));

    [Fact]
    public void A_run_that_needs_more_than_the_room_goes_alone() => Assert.Equal(1, MostAtATime(long.MaxValue));

    [Fact]
    public void No_more_runs_go_at_once_than_there_are_processors() =>
        Assert.InRange(MostAtATime(0), 1, Environment.ProcessorCount);

    [Fact]
    public void A_run_that_waits_can_be_cancelled()
    {
        using var cancel = new CancellationTokenSource();
        using var room = RunRoom.Enter(RunRoom.MostStepElements, CancellationToken.None);
        cancel.Cancel();
        Assert.Throws<OperationCanceledException>(() => RunRoom.Enter(RunRoom.MostStepElements, cancel.Token));
    }
}
