"""Which joints of joined pieces nothing else bears out.

Where pieces lie as they were cut, nearly all of them touch several others along matching sides, so that any
one joint could be left out. A joint that was made by chance is alone in holding together what it joined.
"""

from collections.abc import Iterable, Sequence

from peekpaper.plan.cluster import Bond, Cluster, Match


def doubtful_matches(clusters: Iterable[Cluster]) -> frozenset[Match]:
    """Return the matches of pieces that nothing else holds together."""
    return frozenset(match for cluster in clusters for match in _lonely(cluster.bonds))


def _lonely(bonds: Sequence[Bond]) -> list[Match]:
    contacts: dict[tuple[int, ...], list[Match]] = {}
    for bond in bonds:
        pieces = tuple(sorted({*bond.one.tolist(), *bond.other.tolist()}))
        contacts.setdefault(pieces, []).extend([] if bond.match is None else [bond.match])
    lonely = []
    for pieces, matches in contacts.items():
        if matches:
            group = _groups(other for other in contacts if other != pieces)
            if len({group.get(piece, piece) for piece in pieces}) > 1:
                lonely += matches
    return lonely


def _groups(sets: Iterable[Sequence[int]]) -> dict[int, int]:
    """Return for each member of any set one member that stands for all that are connected."""
    leader: dict[int, int] = {}

    def find(member: int) -> int:
        while leader.setdefault(member, member) != member:
            member = leader[member]
        return member

    for members in sets:
        first = find(members[0])
        for member in members[1:]:
            leader[find(member)] = first
    return {member: find(member) for member in leader}
