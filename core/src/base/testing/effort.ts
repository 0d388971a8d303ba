/** The processor's time in milliseconds since it was made: what else the machine does meanwhile is not counted. */
export function effort(): () => number {
  const start = process.cpuUsage()
  return () => process.cpuUsage(start).user / 1000
}
