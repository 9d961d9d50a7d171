/** Blocks of text on as many pages as they take. */
import type { PageItem } from "../page/page.ts";
import type { Piece } from "./text-block.ts";

/** Pieces that stay on one page where a page can hold them. */
export interface Block {
  readonly pieces: readonly Piece[];
  /** Stands above the block, and again at the top of each further page: the heading of a table. Blocks in a row may share one. */
  readonly head?: Piece;
  /** Stands at the top of the next page where the block had to be cut. */
  readonly again?: Piece;
  /** May be cut anywhere. */
  readonly loose?: boolean;
}

export interface PageRoom {
  readonly topMm: number;
  readonly bottomMm: number;
}

const heightOf = (pieces: readonly Piece[]): number =>
  pieces.reduce((sum, { heightMm }) => sum + heightMm, 0);

/** Fewer lines than these of a cut block are not left behind at the foot of a page. */
const LEAST_LEFT = 3;

/**
 * What stands on each page. A block goes on the next page where it does not fit in the rest of this one; one that is taller
 * than a page is cut between its pieces.
 * @returns items by page, at least one page
 */
export function paginate(blocks: readonly Block[], { topMm, bottomMm }: PageRoom): PageItem[][] {
  const pages: PageItem[][] = [[]];
  let y = topMm;
  let head: Piece | undefined;
  let bare = true;
  const put = (piece: Piece): void => {
    (pages.at(-1) as PageItem[]).push(...piece.draw(y));
    y += piece.heightMm;
  };
  const turn = (): void => {
    pages.push([]);
    y = topMm;
    head = undefined;
    bare = true;
  };
  const putHead = ({ head: wanted }: Block): void => {
    if (wanted && wanted !== head) put(wanted);
    head = wanted;
  };

  for (const block of blocks) {
    const { pieces } = block;
    const headMm = block.head && block.head !== head ? block.head.heightMm : 0;
    const whole = heightOf(pieces);
    const fits = y + headMm + whole <= bottomMm;
    if (!fits && !bare) {
      const fitsAlone = topMm + (block.head?.heightMm ?? 0) + whole <= bottomMm;
      const start = headMm + heightOf(pieces.slice(0, LEAST_LEFT));
      if ((fitsAlone && !block.loose) || y + start > bottomMm) turn();
    }
    putHead(block);
    for (const piece of pieces) {
      if (y + piece.heightMm > bottomMm && !bare) {
        turn();
        putHead(block);
        if (block.again) put(block.again);
      }
      put(piece);
      bare = false;
    }
  }
  return pages;
}
