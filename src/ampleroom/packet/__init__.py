"""The inspection packet: one PDF an inspector can sign in three minutes and follow line by line."""

from ampleroom.packet.build import Paper, labels, packet
from ampleroom.packet.cards import Card
from ampleroom.packet.data import fingerprint

__all__ = ["Card", "Paper", "fingerprint", "labels", "packet"]
