// Elimination order of a plane mesh by geometric nested dissection: halve the nodes along the direction with the smallest
// separator, order both halves first and the separator last. The tree of separators is also the tree of fronts.

/** One front of the factorisation: the nodes [start, end) of the new order, eliminated together after its children. */
export interface Front {
  readonly start: number;
  readonly end: number;
  /** Numbers of the child fronts, all smaller than this front's own number. */
  readonly children: readonly number[];
}

/** Elimination order: `order[k]` is the old number of the k-th node; fronts stand in postorder. */
export interface Dissection {
  readonly order: Int32Array;
  readonly fronts: readonly Front[];
}

const LEAF_NODES = 10;
const DIRECTIONS = Array.from({ length: 6 }, (_, k) => (k * Math.PI) / 6);

/**
 * Orders the nodes of a plane mesh so that its symmetric matrix factorises with little fill.
 * @param x          node coordinates, any unit, (nodes,)
 * @param y          node coordinates, any unit, (nodes,)
 * @param neighbours for each node its neighbours
 * Source: George 1973, SIAM J. Numer. Anal. 10, 345 (nested dissection), with coordinate bisection as the separator.
 */
export function nestedDissection(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  neighbours: readonly (readonly number[])[],
): Dissection {
  const order: number[] = [];
  const fronts: Front[] = [];
  const side = new Int8Array(neighbours.length);

  const eliminate = (nodes: readonly number[], children: readonly number[]): number => {
    const start = order.length;
    order.push(...nodes);
    fronts.push({ start, end: order.length, children });
    return fronts.length - 1;
  };

  const dissect = (nodes: readonly number[]): number => {
    if (nodes.length <= LEAF_NODES) return eliminate(nodes, []);
    const cut = smallestSeparator(nodes, x, y, neighbours, side);
    if (cut === undefined) return eliminate(nodes, []);
    const children = [dissect(cut.left), dissect(cut.right)];
    return eliminate(cut.separator, children);
  };

  dissect(Array.from(neighbours.keys()));
  return { order: Int32Array.from(order), fronts };
}

interface Cut {
  readonly left: readonly number[];
  readonly right: readonly number[];
  readonly separator: readonly number[];
}

function smallestSeparator(
  nodes: readonly number[],
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  neighbours: readonly (readonly number[])[],
  side: Int8Array,
): Cut | undefined {
  let best: Cut | undefined;
  for (const angle of DIRECTIONS) {
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    const along = (node: number) => c * x[node]! + s * y[node]!;
    const sorted = [...nodes].sort((p, q) => along(p) - along(q) || p - q);
    const half = sorted.length >> 1;
    for (let i = 0; i < sorted.length; i++) side[sorted[i]!] = i < half ? 1 : 2;
    for (const from of [1, 2]) {
      const separator = sorted.filter(
        (node) => side[node] === from && neighbours[node]!.some((other) => side[other] === 3 - from),
      );
      if (best !== undefined && separator.length >= best.separator.length) continue;
      const cutAway = new Set(separator);
      best = {
        left: sorted.filter((node) => side[node] === 1 && !cutAway.has(node)),
        right: sorted.filter((node) => side[node] === 2 && !cutAway.has(node)),
        separator,
      };
    }
    for (const node of nodes) side[node] = 0;
  }
  return best === undefined || best.left.length === 0 || best.right.length === 0 ? undefined : best;
}
