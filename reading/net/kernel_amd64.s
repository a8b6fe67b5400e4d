#include "textflag.h"

// func axpyNarrow(a float32, x, y *float32, n int)
// Adds a times n floats at x to those at y; n is a multiple of 4.
TEXT ·axpyNarrow(SB), NOSPLIT, $0-32
	MOVSS  a+0(FP), X0
	SHUFPS $0, X0, X0
	MOVQ   x+8(FP), SI
	MOVQ   y+16(FP), DI
	MOVQ   n+24(FP), CX

sixteen:
	CMPQ   CX, $16
	JL     four
	MOVUPS (SI), X1
	MOVUPS 16(SI), X2
	MOVUPS 32(SI), X3
	MOVUPS 48(SI), X4
	MULPS  X0, X1
	MULPS  X0, X2
	MULPS  X0, X3
	MULPS  X0, X4
	MOVUPS (DI), X5
	MOVUPS 16(DI), X6
	MOVUPS 32(DI), X7
	MOVUPS 48(DI), X8
	ADDPS  X1, X5
	ADDPS  X2, X6
	ADDPS  X3, X7
	ADDPS  X4, X8
	MOVUPS X5, (DI)
	MOVUPS X6, 16(DI)
	MOVUPS X7, 32(DI)
	MOVUPS X8, 48(DI)
	ADDQ   $64, SI
	ADDQ   $64, DI
	SUBQ   $16, CX
	JMP    sixteen

four:
	TESTQ  CX, CX
	JLE    done
	MOVUPS (SI), X1
	MULPS  X0, X1
	MOVUPS (DI), X5
	ADDPS  X1, X5
	MOVUPS X5, (DI)
	ADDQ   $16, SI
	ADDQ   $16, DI
	SUBQ   $4, CX
	JMP    four

done:
	RET

// func dotNarrow(x, y *float32, n int, sums *[16]float32)
// Writes to sums the sums of products of n floats by their place modulo 16;
// n is a multiple of 4.
TEXT ·dotNarrow(SB), NOSPLIT, $0-32
	MOVQ  x+0(FP), SI
	MOVQ  y+8(FP), DI
	MOVQ  n+16(FP), CX
	MOVQ  sums+24(FP), DX
	XORPS X0, X0
	XORPS X1, X1
	XORPS X2, X2
	XORPS X3, X3

sixteen:
	CMPQ   CX, $16
	JL     four
	MOVUPS (SI), X4
	MOVUPS 16(SI), X5
	MOVUPS 32(SI), X6
	MOVUPS 48(SI), X7
	MOVUPS (DI), X8
	MOVUPS 16(DI), X9
	MOVUPS 32(DI), X10
	MOVUPS 48(DI), X11
	MULPS  X8, X4
	MULPS  X9, X5
	MULPS  X10, X6
	MULPS  X11, X7
	ADDPS  X4, X0
	ADDPS  X5, X1
	ADDPS  X6, X2
	ADDPS  X7, X3
	ADDQ   $64, SI
	ADDQ   $64, DI
	SUBQ   $16, CX
	JMP    sixteen

four:
	TESTQ  CX, CX
	JLE    done
	MOVUPS (SI), X4
	MOVUPS (DI), X8
	MULPS  X8, X4
	ADDPS  X4, X0
	ADDQ   $16, SI
	ADDQ   $16, DI
	SUBQ   $4, CX
	JMP    four

done:
	MOVUPS X0, (DX)
	MOVUPS X1, 16(DX)
	MOVUPS X2, 32(DX)
	MOVUPS X3, 48(DX)
	RET

// func adamNarrow(w, gradient, first, second *float32, n int, c *adam)
// Moves n weights; n is a multiple of 4.
TEXT ·adamNarrow(SB), NOSPLIT, $0-48
	MOVQ   w+0(FP), AX
	MOVQ   gradient+8(FP), BX
	MOVQ   first+16(FP), SI
	MOVQ   second+24(FP), DI
	MOVQ   n+32(FP), CX
	MOVQ   c+40(FP), DX
	MOVSS  0(DX), X8
	SHUFPS $0, X8, X8
	MOVSS  4(DX), X9
	SHUFPS $0, X9, X9
	MOVSS  8(DX), X10
	SHUFPS $0, X10, X10
	MOVSS  12(DX), X11
	SHUFPS $0, X11, X11
	MOVSS  16(DX), X12
	SHUFPS $0, X12, X12
	MOVSS  20(DX), X13
	SHUFPS $0, X13, X13
	MOVSS  24(DX), X14
	SHUFPS $0, X14, X14
	MOVSS  28(DX), X15
	SHUFPS $0, X15, X15

four:
	TESTQ  CX, CX
	JLE    done
	MOVUPS (BX), X0
	MOVAPS X0, X1
	MULPS  X0, X1
	MULPS  X9, X0
	MOVUPS (SI), X2
	MULPS  X8, X2
	ADDPS  X0, X2
	MOVUPS X2, (SI)
	MULPS  X11, X1
	MOVUPS (DI), X3
	MULPS  X10, X3
	ADDPS  X1, X3
	MOVUPS X3, (DI)
	MULPS  X13, X3
	SQRTPS X3, X3
	ADDPS  X14, X3
	MULPS  X12, X2
	DIVPS  X3, X2
	MOVUPS (AX), X4
	MOVAPS X4, X5
	MULPS  X15, X5
	ADDPS  X5, X2
	SUBPS  X2, X4
	MOVUPS X4, (AX)
	XORPS  X0, X0
	MOVUPS X0, (BX)
	ADDQ   $16, AX
	ADDQ   $16, BX
	ADDQ   $16, SI
	ADDQ   $16, DI
	SUBQ   $4, CX
	JMP    four

done:
	RET

// func axpyWide(a float32, x, y *float32, n int)
// axpyNarrow with registers of eight numbers (AVX).
TEXT ·axpyWide(SB), NOSPLIT, $0-32
	VBROADCASTSS a+0(FP), Y0
	MOVQ         x+8(FP), SI
	MOVQ         y+16(FP), DI
	MOVQ         n+24(FP), CX

thirtytwo:
	CMPQ    CX, $32
	JL      eight
	VMULPS  (SI), Y0, Y1
	VMULPS  32(SI), Y0, Y2
	VMULPS  64(SI), Y0, Y3
	VMULPS  96(SI), Y0, Y4
	VADDPS  (DI), Y1, Y1
	VADDPS  32(DI), Y2, Y2
	VADDPS  64(DI), Y3, Y3
	VADDPS  96(DI), Y4, Y4
	VMOVUPS Y1, (DI)
	VMOVUPS Y2, 32(DI)
	VMOVUPS Y3, 64(DI)
	VMOVUPS Y4, 96(DI)
	ADDQ    $128, SI
	ADDQ    $128, DI
	SUBQ    $32, CX
	JMP     thirtytwo

eight:
	CMPQ    CX, $8
	JL      four
	VMULPS  (SI), Y0, Y1
	VADDPS  (DI), Y1, Y1
	VMOVUPS Y1, (DI)
	ADDQ    $32, SI
	ADDQ    $32, DI
	SUBQ    $8, CX
	JMP     eight

four:
	TESTQ   CX, CX
	JLE     done
	VMULPS  (SI), X0, X1
	VADDPS  (DI), X1, X1
	VMOVUPS X1, (DI)

done:
	VZEROUPPER
	RET

// func dotWide(x, y *float32, n int, sums *[16]float32)
// dotNarrow with registers of eight numbers (AVX).
TEXT ·dotWide(SB), NOSPLIT, $0-32
	MOVQ   x+0(FP), SI
	MOVQ   y+8(FP), DI
	MOVQ   n+16(FP), CX
	MOVQ   sums+24(FP), DX
	VXORPS Y0, Y0, Y0
	VXORPS Y1, Y1, Y1

sixteen:
	CMPQ    CX, $16
	JL      rest
	VMOVUPS (SI), Y2
	VMOVUPS 32(SI), Y3
	VMULPS  (DI), Y2, Y2
	VMULPS  32(DI), Y3, Y3
	VADDPS  Y2, Y0, Y0
	VADDPS  Y3, Y1, Y1
	ADDQ    $64, SI
	ADDQ    $64, DI
	SUBQ    $16, CX
	JMP     sixteen

rest:
	VMOVUPS Y0, (DX)
	VMOVUPS Y1, 32(DX)
	VMOVUPS (DX), X0

four:
	TESTQ   CX, CX
	JLE     done
	VMOVUPS (SI), X2
	VMULPS  (DI), X2, X2
	VADDPS  X2, X0, X0
	ADDQ    $16, SI
	ADDQ    $16, DI
	SUBQ    $4, CX
	JMP     four

done:
	VMOVUPS X0, (DX)
	VZEROUPPER
	RET

// func adamWide(w, gradient, first, second *float32, n int, c *adam)
// adamNarrow with registers of eight numbers (AVX); n is a multiple of 4.
TEXT ·adamWide(SB), NOSPLIT, $0-48
	MOVQ         w+0(FP), AX
	MOVQ         gradient+8(FP), BX
	MOVQ         first+16(FP), SI
	MOVQ         second+24(FP), DI
	MOVQ         n+32(FP), CX
	MOVQ         c+40(FP), DX
	VBROADCASTSS 0(DX), Y8
	VBROADCASTSS 4(DX), Y9
	VBROADCASTSS 8(DX), Y10
	VBROADCASTSS 12(DX), Y11
	VBROADCASTSS 16(DX), Y12
	VBROADCASTSS 20(DX), Y13
	VBROADCASTSS 24(DX), Y14
	VBROADCASTSS 28(DX), Y15
	VXORPS       Y7, Y7, Y7

eight:
	CMPQ    CX, $8
	JL      four
	VMOVUPS (BX), Y0
	VMULPS  Y0, Y0, Y1
	VMULPS  Y9, Y0, Y0
	VMULPS  (SI), Y8, Y2
	VADDPS  Y0, Y2, Y2
	VMOVUPS Y2, (SI)
	VMULPS  Y11, Y1, Y1
	VMULPS  (DI), Y10, Y3
	VADDPS  Y1, Y3, Y3
	VMOVUPS Y3, (DI)
	VMULPS  Y13, Y3, Y3
	VSQRTPS Y3, Y3
	VADDPS  Y14, Y3, Y3
	VMULPS  Y12, Y2, Y2
	VDIVPS  Y3, Y2, Y2
	VMOVUPS (AX), Y4
	VMULPS  Y15, Y4, Y5
	VADDPS  Y5, Y2, Y2
	VSUBPS  Y2, Y4, Y4
	VMOVUPS Y4, (AX)
	VMOVUPS Y7, (BX)
	ADDQ    $32, AX
	ADDQ    $32, BX
	ADDQ    $32, SI
	ADDQ    $32, DI
	SUBQ    $8, CX
	JMP     eight

four:
	TESTQ   CX, CX
	JLE     done
	VMOVUPS (BX), X0
	VMULPS  X0, X0, X1
	VMULPS  X9, X0, X0
	VMULPS  (SI), X8, X2
	VADDPS  X0, X2, X2
	VMOVUPS X2, (SI)
	VMULPS  X11, X1, X1
	VMULPS  (DI), X10, X3
	VADDPS  X1, X3, X3
	VMOVUPS X3, (DI)
	VMULPS  X13, X3, X3
	VSQRTPS X3, X3
	VADDPS  X14, X3, X3
	VMULPS  X12, X2, X2
	VDIVPS  X3, X2, X2
	VMOVUPS (AX), X4
	VMULPS  X15, X4, X5
	VADDPS  X5, X2, X2
	VSUBPS  X2, X4, X4
	VMOVUPS X4, (AX)
	VMOVUPS X7, (BX)

done:
	VZEROUPPER
	RET
