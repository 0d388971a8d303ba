/** Ways to count so far, by the place they have come to, in arrays that are used again. */
const FIRST_ROOM = 64

export class Ways {
  count = 0
  places = new Int32Array(FIRST_ROOM)
  weights = new Float64Array(FIRST_ROOM)

  clear(): void {
    this.count = 0
  }

  add(place: number, weight: number): void {
    if (this.count === this.places.length) this.grow()
    this.places[this.count] = place
    this.weights[this.count++] = weight
  }

  most(): number {
    let most = 0
    for (let i = 0; i < this.count; i++) if (this.weights[i]! > most) most = this.weights[i]!
    return most
  }

  /** The weight at a rank, the heaviest being 0. */
  weightAt(rank: number): number {
    return this.weights.slice(0, this.count).sort()[this.count - 1 - rank] ?? 0
  }

  private grow(): void {
    this.places = wider(this.places, new Int32Array(2 * this.places.length))
    this.weights = wider(this.weights, new Float64Array(2 * this.weights.length))
  }
}

function wider<A extends Int32Array | Float64Array>(old: A, room: A): A {
  room.set(old)
  return room
}
