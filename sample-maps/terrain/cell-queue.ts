/** Cells by rising key; equal keys come out in the order they went in, so that results never depend on the heap. */
export class CellQueue {
  #cells: Int32Array;
  #keys: Float64Array;
  #turns: Int32Array;
  #turn = 0;
  size = 0;

  /** @param capacity cells expected at one time; more make it grow */
  constructor(capacity: number) {
    this.#cells = new Int32Array(capacity + 1);
    this.#keys = new Float64Array(capacity + 1);
    this.#turns = new Int32Array(capacity + 1);
  }

  push(cell: number, key: number): void {
    if (this.size + 1 >= this.#cells.length) this.#grow();
    const turn = this.#turn++;
    let at = this.size++;
    while (at > 0) {
      const up = (at - 1) >> 1;
      const upKey = this.#keys[up] as number;
      if (upKey <= key) break;
      this.#move(up, at);
      at = up;
    }
    this.#cells[at] = cell;
    this.#keys[at] = key;
    this.#turns[at] = turn;
  }

  /** The cell with the lowest key. Only call while `size` is not 0. */
  pop(): number {
    const top = this.#cells[0] as number;
    const last = --this.size;
    const cell = this.#cells[last] as number;
    const key = this.#keys[last] as number;
    const turn = this.#turns[last] as number;
    let at = 0;
    for (;;) {
      let down = 2 * at + 1;
      if (down >= last) break;
      if (down + 1 < last && this.#before(down + 1, down)) down++;
      const downKey = this.#keys[down] as number;
      if (downKey > key || (downKey === key && (this.#turns[down] as number) > turn)) break;
      this.#move(down, at);
      at = down;
    }
    this.#cells[at] = cell;
    this.#keys[at] = key;
    this.#turns[at] = turn;
    return top;
  }

  #before(a: number, b: number): boolean {
    const difference = (this.#keys[a] as number) - (this.#keys[b] as number);
    return difference < 0 || (difference === 0 && (this.#turns[a] as number) < (this.#turns[b] as number));
  }

  #grow(): void {
    const longer = <A extends Int32Array | Float64Array>(to: A, from: A): A => {
      to.set(from);
      return to;
    };
    const length = this.#cells.length * 2;
    this.#cells = longer(new Int32Array(length), this.#cells);
    this.#keys = longer(new Float64Array(length), this.#keys);
    this.#turns = longer(new Int32Array(length), this.#turns);
  }

  #move(from: number, to: number): void {
    this.#cells[to] = this.#cells[from] as number;
    this.#keys[to] = this.#keys[from] as number;
    this.#turns[to] = this.#turns[from] as number;
  }
}
