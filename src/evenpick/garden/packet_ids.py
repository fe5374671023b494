"""What a packet of the garden file goes by in the diary, which knows its own packets by their entries."""

from __future__ import annotations


def file_packet_id(crop: str, variety: str, year: int) -> str:
    return f"file:{crop}:{variety.casefold()}:{year}"
