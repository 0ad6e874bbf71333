"""The inspection packet: one PDF an inspector can sign in three minutes and follow line by line."""

from ampleroom.packet.build import Paper, labels, packet
from ampleroom.packet.cards import CARD_MAKERS, Card
from ampleroom.packet.data import fingerprint

__all__ = ["CARD_MAKERS", "Card", "Paper", "fingerprint", "labels", "packet"]
