using RigDaq.Daemon.Commands;

return await CommandTree.RunAsync(args).ConfigureAwait(false);
