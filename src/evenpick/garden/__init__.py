"""What the grower has and wants: ground, covers, bench, outlets, wishes, seed tin."""
