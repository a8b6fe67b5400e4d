#include "go_asm.h"
#include "textflag.h"

// The loops of kernel.go. A row has 128 columns.

// func findRowsWide(places *int32, codes *uint32, n int, t *codeTable, rows *packedRow) int
// Asks for the rows early too. A code is compared with the eight that begin
// where its equals do in the list, and no branch depends on the outcome, which
// no processor could foresee; where there are more than eight it goes on.
TEXT ·findRowsWide(SB), NOSPLIT, $0-48
	MOVQ places+0(FP), DI
	MOVQ codes+8(FP), SI
	MOVQ n+16(FP), DX
	MOVQ t+24(FP), AX
	MOVQ rows+32(FP), R8
	MOVQ codeTable_first(AX), R9
	MOVQ codeTable_codes(AX), R10
	MOVQ codeTable_shift(AX), CX
	LEAQ (SI)(DX*4), DX
	XORQ R13, R13

code:
	CMPQ         SI, DX
	JGE          done
	MOVL         (SI), AX
	VPBROADCASTD (SI), Y0
	ADDQ         $4, SI
	SHRXQ        CX, AX, AX
	MOVL         (R9)(AX*4), BX
	MOVL         4(R9)(AX*4), R12

eight:
	VPCMPEQD  (R10)(BX*4), Y0, Y1
	VMOVMSKPS Y1, AX
	LEAQ      8(BX), R11
	CMPQ      R11, R12
	JLT       more

place:
	TZCNTL     AX, AX              // carry where there is none
	LEAQ       (AX)(BX*1), AX
	CMOVQCS    R13, AX             // the first row, which is as good as any
	SETCC      R12
	MOVL       AX, (DI)
	SHLQ       $7, AX
	PREFETCHT0 (R8)(AX*1)
	PREFETCHT0 64(R8)(AX*1)
	MOVBLZX    R12, R12
	LEAQ       (DI)(R12*4), DI
	JMP        code

more:
	TESTL AX, AX
	JNZ   place
	MOVQ  R11, BX
	JMP   eight

done:
	SUBQ places+0(FP), DI
	SHRQ $2, DI
	MOVQ DI, ret+40(FP)
	VZEROUPPER
	RET

// func sumRowsWide(x *Row, rows *packedRow, places *int32, n int, unit *Row, scale float32)
// Of each word of two bytes it sums up the whole and the upper byte: the sum of
// the lower bytes is the difference.
TEXT ·sumRowsWide(SB), NOSPLIT, $0-44
	MOVQ  rows+8(FP), SI
	MOVQ  places+16(FP), DX
	MOVQ  n+24(FP), CX
	MOVQ  CX, R8
	VPXOR Y0, Y0, Y0
	VPXOR Y1, Y1, Y1
	VPXOR Y2, Y2, Y2
	VPXOR Y3, Y3, Y3
	VPXOR Y4, Y4, Y4
	VPXOR Y5, Y5, Y5
	VPXOR Y6, Y6, Y6
	VPXOR Y7, Y7, Y7

row:
	TESTQ   CX, CX
	JLE     worth
	MOVLQSX (DX), AX
	SHLQ    $7, AX
	VMOVDQU (SI)(AX*1), Y8
	VMOVDQU 32(SI)(AX*1), Y9
	VMOVDQU 64(SI)(AX*1), Y10
	VMOVDQU 96(SI)(AX*1), Y11
	VPADDW  Y8, Y0, Y0
	VPADDW  Y9, Y1, Y1
	VPADDW  Y10, Y2, Y2
	VPADDW  Y11, Y3, Y3
	VPSRLW  $8, Y8, Y8
	VPSRLW  $8, Y9, Y9
	VPSRLW  $8, Y10, Y10
	VPSRLW  $8, Y11, Y11
	VPADDW  Y8, Y4, Y4
	VPADDW  Y9, Y5, Y5
	VPADDW  Y10, Y6, Y6
	VPADDW  Y11, Y7, Y7
	ADDQ    $4, DX
	DECQ    CX
	JMP     row

worth: // 32 columns at a time
	MOVQ         x+0(FP), DI
	MOVQ         unit+32(FP), SI
	VBROADCASTSS scale+40(FP), Y15
	IMULQ        $const_zeroByte, R8
	VMOVQ        R8, X14
	VPBROADCASTW X14, Y14

#define WORTH(whole, upper, at) \
	VPSLLW     $8, upper, Y8       \
	VPSUBW     Y8, whole, whole    \
	VPSUBW     Y14, whole, whole   \
	VPSUBW     Y14, upper, upper   \
	VPUNPCKLWD upper, whole, Y8    \ // columns 0 to 7, 16 to 23
	VPUNPCKHWD upper, whole, Y9    \ // 8 to 15, 24 to 31
	EIGHT(X8, at)                  \
	EIGHT(X9, at+32)               \
	VEXTRACTI128 $1, Y8, X8        \
	VEXTRACTI128 $1, Y9, X9        \
	EIGHT(X8, at+64)               \
	EIGHT(X9, at+96)

#define EIGHT(columns, at) \
	VPMOVSXWD columns, Y10         \
	VCVTDQ2PS Y10, Y10             \
	VMULPS    at(SI), Y10, Y10     \
	VMULPS    Y15, Y10, Y10        \
	VMOVUPS   Y10, at(DI)

	WORTH(Y0, Y4, 0)
	WORTH(Y1, Y5, 128)
	WORTH(Y2, Y6, 256)
	WORTH(Y3, Y7, 384)
	VZEROUPPER
	RET

// func addTermsWide(x *Row, terms *Term, n int)
TEXT ·addTermsWide(SB), NOSPLIT, $0-24
	MOVQ x+0(FP), DI
	XORQ BX, BX

block: // 64 columns of all terms, whose sums stay in registers
	MOVQ    terms+8(FP), SI
	MOVQ    n+16(FP), CX
	VMOVUPS (DI)(BX*1), Y0
	VMOVUPS 32(DI)(BX*1), Y1
	VMOVUPS 64(DI)(BX*1), Y2
	VMOVUPS 96(DI)(BX*1), Y3
	VMOVUPS 128(DI)(BX*1), Y4
	VMOVUPS 160(DI)(BX*1), Y5
	VMOVUPS 192(DI)(BX*1), Y6
	VMOVUPS 224(DI)(BX*1), Y7

term:
	TESTQ        CX, CX
	JLE          store
	VBROADCASTSS Term_Times(SI), Y15
	MOVQ         Term_Row(SI), AX
	ADDQ         BX, AX
	VMULPS       (AX), Y15, Y8
	VMULPS       32(AX), Y15, Y9
	VMULPS       64(AX), Y15, Y10
	VMULPS       96(AX), Y15, Y11
	VADDPS       Y8, Y0, Y0
	VADDPS       Y9, Y1, Y1
	VADDPS       Y10, Y2, Y2
	VADDPS       Y11, Y3, Y3
	VMULPS       128(AX), Y15, Y8
	VMULPS       160(AX), Y15, Y9
	VMULPS       192(AX), Y15, Y10
	VMULPS       224(AX), Y15, Y11
	VADDPS       Y8, Y4, Y4
	VADDPS       Y9, Y5, Y5
	VADDPS       Y10, Y6, Y6
	VADDPS       Y11, Y7, Y7
	ADDQ         $Term__size, SI
	DECQ         CX
	JMP          term

store:
	VMOVUPS Y0, (DI)(BX*1)
	VMOVUPS Y1, 32(DI)(BX*1)
	VMOVUPS Y2, 64(DI)(BX*1)
	VMOVUPS Y3, 96(DI)(BX*1)
	VMOVUPS Y4, 128(DI)(BX*1)
	VMOVUPS Y5, 160(DI)(BX*1)
	VMOVUPS Y6, 192(DI)(BX*1)
	VMOVUPS Y7, 224(DI)(BX*1)
	ADDQ    $256, BX
	CMPQ    BX, $512
	JLT     block
	VZEROUPPER
	RET

DATA ·six+0(SB)/8, $0xffffffffffffffff
DATA ·six+8(SB)/8, $0xffffffffffffffff
DATA ·six+16(SB)/8, $0xffffffffffffffff
DATA ·six+24(SB)/8, $0
GLOBL ·six(SB), RODATA|NOPTR, $32

// func activateWide(x *Row, weights *[Outputs][Hidden]float32, out *[Outputs]float32)
TEXT ·activateWide(SB), NOSPLIT, $0-24
	MOVQ   x+0(FP), SI
	MOVQ   weights+8(FP), DX
	MOVQ   out+16(FP), DI
	VXORPS Y0, Y0, Y0
	VXORPS Y1, Y1, Y1
	VXORPS Y7, Y7, Y7
	XORQ   BX, BX

eight:
	VMAXPS (SI)(BX*1), Y7, Y2
	VMULPS (DX)(BX*1), Y2, Y3
	VMULPS (const_Hidden*4)(DX)(BX*1), Y2, Y4
	VADDPS Y3, Y0, Y0
	VADDPS Y4, Y1, Y1
	ADDQ   $32, BX
	CMPQ   BX, $480
	JLT    eight

	// The last six.
	VMOVUPS    ·six(SB), Y6
	VMASKMOVPS (SI)(BX*1), Y6, Y2
	VMAXPS     Y2, Y7, Y2
	VMASKMOVPS (DX)(BX*1), Y6, Y3
	VMASKMOVPS (const_Hidden*4)(DX)(BX*1), Y6, Y4
	VMULPS     Y3, Y2, Y3
	VMULPS     Y4, Y2, Y4
	VADDPS     Y3, Y0, Y0
	VADDPS     Y4, Y1, Y1

	// Lanes 4 apart, then 2, then 1.
	VEXTRACTF128 $1, Y0, X2
	VEXTRACTF128 $1, Y1, X3
	VADDPS       X2, X0, X0
	VADDPS       X3, X1, X1
	VMOVHLPS     X0, X0, X2
	VMOVHLPS     X1, X1, X3
	VADDPS       X2, X0, X0
	VADDPS       X3, X1, X1
	VMOVSHDUP    X0, X2
	VMOVSHDUP    X1, X3
	VADDSS       X2, X0, X0
	VADDSS       X3, X1, X1
	VADDSS       (const_Hidden*4)(SI), X0, X0
	VADDSS       (const_Hidden*4+4)(SI), X1, X1
	VMOVSS       X0, (DI)
	VMOVSS       X1, 4(DI)
	VZEROUPPER
	RET
