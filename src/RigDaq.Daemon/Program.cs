using RigDaq.Daemon.Commands;
using RigDaq.Daemon.Terminal;
using RigDaq.Text;

// Before anything that holds words is made, such as the options of commands.
using IDisposable spoken = Language.Of(Environment.GetEnvironmentVariable(Language.EnvironmentVariable)).Speak();
Console.SetOut(new PlainTerminal(Console.Out));
Console.SetError(new PlainTerminal(Console.Error));
return await CommandTree.RunAsync(args).ConfigureAwait(false);
