/** The least costs of one node by time: few enough for a list. Times are mostly asked for in the order in which they stand. */
export class ByTime {
  size = 0
  readonly times: number[] = []
  readonly costs: number[] = []
  /** Behind the one that was asked for last. */
  private hint = 0

  clear(): this {
    this.size = this.hint = 0
    return this
  }

  /** Where a time stands; -1: nowhere. */
  private find(time: number): number {
    const { times, size, hint } = this
    if (hint < size && times[hint] === time) return this.hint++
    for (let i = hint; i < size; i++) if (times[i] === time) return this.found(i)
    for (let i = Math.min(hint, size) - 1; i >= 0; i--) if (times[i] === time) return this.found(i)
    return -1
  }

  private found(at: number): number {
    this.hint = at + 1
    return at
  }

  get(time: number): number | undefined {
    const at = this.find(time)
    return at < 0 ? undefined : this.costs[at]
  }

  /** Puts down what it costs at a time, if that is new or less than what is known. */
  lower(time: number, cost: number): void {
    const at = this.find(time)
    if (at < 0) this.add(time, cost)
    else if (cost < this.costs[at]!) this.costs[at] = cost
  }

  /** Puts down a time that is not there yet. */
  add(time: number, cost: number): void {
    const at = this.size++
    this.times[at] = time
    this.costs[at] = cost
    this.hint = this.size
  }

  /** Takes over all of another. */
  copy({ times, costs, size }: ByTime): this {
    this.clear()
    for (let i = 0; i < size; i++) this.add(times[i]!, costs[i]!)
    this.hint = 0
    return this
  }

  least(): number {
    const { costs, size } = this
    let least = Infinity
    for (let i = 0; i < size; i++) if (costs[i]! < least) least = costs[i]!
    return least
  }

  /** The cheapest, the first of several; at no time for infinitely much where there is none. */
  cheapest(): { readonly time: number; readonly cost: number } {
    const { times, costs, size } = this
    let [time, cost] = [0, Infinity]
    for (let i = 0; i < size; i++) if (costs[i]! < cost) [time, cost] = [times[i]!, costs[i]!]
    return { time, cost }
  }
}
