using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Terminal;

Console.SetOut(new PlainTerminal(Console.Out));
Console.SetError(new PlainTerminal(Console.Error));
return await CommandTree.RunAsync(args).ConfigureAwait(false);
