using StationFleet.Cli;

return await StationFleetCommand.RunAsync(args, Console.Out, Console.Error);
