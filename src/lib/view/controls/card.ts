/** Sets an open card (a popover) under what opened it, or above where there is no room, inside the window. */
export function placeCard(card: HTMLElement, opener: HTMLElement): void {
	const by = opener.getBoundingClientRect();
	const below = by.bottom + 6;
	const fits = below + card.offsetHeight < innerHeight - 8;
	const top = fits ? below : by.top - 6 - card.offsetHeight;
	card.style.left = `${Math.max(8, Math.min(by.left, innerWidth - card.offsetWidth - 8))}px`;
	card.style.top = `${Math.max(8, top)}px`;
}
