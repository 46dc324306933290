namespace StationFleet.Storage.Telemetry;
public sealed class MeasurementWriter;
public sealed class MeasurementReader;
