"""The rehearsal: will the block come out square in real hands?"""
